import { existsSync, mkdirSync, mkdtempSync, realpathSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { BadInput } from './faults';

export interface OutputFile {
  readonly name: string;
  readonly text: string;
}

/**
 * Writes all files into a folder or none: they are written beside it first and then renamed into place.
 * Refuses (`BadInput`) to write over a file that was read.
 */
export function writeFiles(folder: string, files: readonly OutputFile[], inputs: readonly string[]): void {
  const target = resolve(folder);
  const read = new Set(inputs.map((input) => realpathSync(input)));
  for (const { name } of files) {
    const path = join(target, name);
    if (existsSync(path) && read.has(realpathSync(path))) {
      throw new BadInput([
        `${path}:1:1: read "--out ${folder}"; expected another folder: this would write over an input`,
      ]);
    }
  }
  const parent = dirname(target);
  mkdirSync(parent, { recursive: true });
  const beside = mkdtempSync(join(parent, '.hollowline-'));
  try {
    for (const { name, text } of files) writeFileSync(join(beside, name), text);
    mkdirSync(target, { recursive: true });
    for (const { name } of files) renameSync(join(beside, name), join(target, name));
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}
