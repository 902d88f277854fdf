import {
  closeSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { faultOf } from './faults';

export interface OutputFile {
  readonly name: string;
  /** In one piece, or in pieces that are written one after the other. */
  readonly text: string | readonly string[];
}

/**
 * Writes all files into a folder or none: they are written beside each other in a folder of their own first and then
 * renamed into place. Refuses (`BadInput`) to write over a file that was read, or where a folder has a file's name.
 */
export function writeFiles(folder: string, files: readonly OutputFile[], inputs: readonly string[]): void {
  const target = resolve(folder);
  const read = new Set(inputs.map((input) => realpathSync(input)));
  const isNew = !existsSync(target);
  if (!isNew && !statSync(target).isDirectory()) throw faultOf(target, '1', folder, 'a folder there, not a file');
  for (const { name } of files) {
    const path = join(target, name);
    if (!existsSync(path)) continue;
    if (statSync(path).isDirectory()) throw faultOf(path, '1', name, 'a file there, not a folder');
    if (read.has(realpathSync(path))) {
      throw faultOf(path, '1', `--out ${folder}`, 'another folder: this would write over an input');
    }
  }
  mkdirSync(target, { recursive: true });
  try {
    const beside = mkdtempSync(join(target, '.hollowline-'));
    try {
      for (const { name, text } of files) writeText(join(beside, name), text);
      for (const { name } of files) renameSync(join(beside, name), join(target, name));
    } finally {
      rmSync(beside, { recursive: true, force: true });
    }
  } catch (error) {
    if (isNew) rmSync(target, { recursive: true, force: true });
    throw error;
  }
}

function writeText(path: string, text: OutputFile['text']): void {
  const file = openSync(path, 'w');
  try {
    for (const piece of typeof text === 'string' ? [text] : text) writeSync(file, piece);
  } finally {
    closeSync(file);
  }
}
