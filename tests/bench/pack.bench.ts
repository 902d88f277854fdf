import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export interface PackBench {
  readonly segments: number;
  /** Of the processor: what else the machine does is no part of it. */
  readonly seconds: number;
  /** Most memory that the whole process ever held, survey, findings and program included. */
  readonly megabytes: number;
  readonly zipMegabytes: number;
}

/** Packs a survey of so many lines of 100 readings in a process of its own, so that its memory is its own. */
export function benchPack(lineCount = 1000): PackBench {
  const once = fileURLToPath(new URL('./pack-once.ts', import.meta.url));
  const ran = spawnSync(process.execPath, ['--import', 'tsx', once, String(lineCount)], { encoding: 'utf8' });
  if (ran.status !== 0) throw new Error(ran.stderr);
  return JSON.parse(ran.stdout) as PackBench;
}
