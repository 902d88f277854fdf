import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { faultOf } from './faults';
import { folderBeside } from './folder-beside';

export interface OutputFile {
  readonly name: string;
  /** In one piece, or in pieces that are made and written one after the other, once. */
  readonly text: string | Iterable<string> | Uint8Array;
}

/**
 * Writes all files into a folder or none: they are written beside it first and then renamed into place. A new folder
 * appears with all of them at once. In one that is there, the last file is taken away first and put back last: where the
 * program is killed meanwhile, it is missing, and that tells it. Refuses (`BadInput`) to write over a file that was
 * read, or where a folder has a file's name.
 */
export function writeFiles(folder: string, files: readonly OutputFile[], inputs: readonly string[]): void {
  const target = resolve(folder);
  const isNew = !existsSync(target);
  if (!isNew && !statSync(target).isDirectory()) throw faultOf(target, '1', folder, 'a folder there, not a file');
  // An input that has vanished meanwhile was read whole, and nothing can be written over it.
  const read = new Set(inputs.filter((input) => existsSync(input)).map((input) => realpathSync(input)));
  for (const { name } of files) {
    const path = join(target, name);
    if (!existsSync(path)) continue;
    if (statSync(path).isDirectory()) throw faultOf(path, '1', name, 'a file there, not a folder');
    if (read.has(realpathSync(path))) {
      throw faultOf(path, '1', `--out ${folder}`, 'another folder: this would write over an input');
    }
  }
  const parent = isNew ? dirname(target) : target;
  const firstMade = isNew ? mkdirSync(parent, { recursive: true }) : undefined;
  try {
    const beside = folderBeside(parent);
    try {
      // The folder itself is for this user alone; what is made in it has the usual leave.
      const made = join(beside, 'new');
      mkdirSync(made);
      for (const { name, text } of files) writeText(join(made, name), text);
      if (isNew) renameSync(made, target);
      else {
        putInPlace(
          made,
          target,
          join(beside, 'old'),
          files.map(({ name }) => name),
        );
      }
    } finally {
      rmSync(beside, { recursive: true, force: true });
    }
  } catch (error) {
    if (firstMade !== undefined) rmSync(firstMade, { recursive: true, force: true });
    throw error;
  }
}

/** Moves the files of one folder into another; where one cannot be moved, everything is as it was. */
function putInPlace(made: string, target: string, old: string, names: readonly string[]): void {
  const undo: (() => void)[] = [];
  const move = (from: string, to: string): void => {
    renameSync(from, to);
    undo.push(() => renameSync(to, from));
  };
  const setAside = (name: string): void => {
    if (existsSync(join(target, name))) move(join(target, name), join(old, name));
  };
  mkdirSync(old);
  try {
    const last = names.at(-1);
    if (last !== undefined) setAside(last);
    for (const name of names) {
      setAside(name);
      move(join(made, name), join(target, name));
    }
  } catch (error) {
    for (const back of undo.reverse()) back();
    throw error;
  }
}

function writeText(path: string, text: OutputFile['text']): void {
  const file = openSync(path, 'wx');
  try {
    for (const piece of typeof text === 'string' || text instanceof Uint8Array ? [text] : text) {
      const bytes = typeof piece === 'string' ? Buffer.from(piece) : piece;
      // A disk that fills up takes the beginning of what it is given and says so only the next time.
      for (let at = 0; at < bytes.length; ) at += writeSync(file, bytes, at);
    }
  } finally {
    closeSync(file);
  }
}
