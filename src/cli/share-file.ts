import { existsSync, mkdtempSync, realpathSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { faultOf } from './faults';

/**
 * Writes one file or none: beside its place first, then renamed into it. Refuses (`BadInput`) to write over a file that
 * was read, over a folder, or into a folder that is not there.
 */
export function writeOneFile(path: string, bytes: Uint8Array, inputs: readonly string[]): void {
  const target = resolve(path);
  const folder = dirname(target);
  if (!existsSync(folder) || !statSync(folder).isDirectory()) throw faultOf(path, '1', folder, 'a folder there');
  if (existsSync(target)) {
    if (statSync(target).isDirectory()) throw faultOf(path, '1', basename(target), 'a file there, not a folder');
    const read = new Set(inputs.map((input) => realpathSync(input)));
    if (read.has(realpathSync(target))) {
      throw faultOf(path, '1', `--out ${path}`, 'another file: this would write over an input');
    }
  }
  const beside = mkdtempSync(join(folder, '.hollowline-'));
  try {
    writeFileSync(join(beside, 'pack'), bytes);
    renameSync(join(beside, 'pack'), target);
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}
