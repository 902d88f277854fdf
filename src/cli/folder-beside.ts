import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';

/** The machine stands in the name since a process number says nothing about another one's. */
const BEGINNING = `.hollowline-${hostname().replace(/\W/g, '_')}-`;

/** A new hidden folder in `parent` to write in first. What killed runs left there before is removed. */
export function folderBeside(parent: string): string {
  for (const name of readdirSync(parent)) {
    if (isLeftover(name)) rmSync(join(parent, name), { recursive: true, force: true });
  }
  return mkdtempSync(join(parent, `${BEGINNING}${process.pid}-`));
}

function isLeftover(name: string): boolean {
  const processId = name.startsWith(BEGINNING) ? /^(\d+)-/.exec(name.slice(BEGINNING.length))?.[1] : undefined;
  return processId !== undefined && !isRunning(Number(processId));
}

function isRunning(processId: number): boolean {
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    // Leave to signal it is not needed to know that it is there.
    return (error as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}
