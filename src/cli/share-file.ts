import { existsSync, statSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { faultOf } from './faults';
import { writeFiles } from './write-files';

/** Writes one file or none, as `writeFiles` does, but into a folder that has to be there (`BadInput`). */
export function writeOneFile(path: string, bytes: Uint8Array, inputs: readonly string[]): void {
  const folder = dirname(resolve(path));
  if (!existsSync(folder) || !statSync(folder).isDirectory()) throw faultOf(path, '1', folder, 'a folder there');
  writeFiles(folder, [{ name: basename(path), text: bytes }], inputs);
}
