import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    builtApps: string;
  }
}

/** Set by the first project of a run, so that the others use the same builds. */
const FOLDER = 'HOLLOWLINE_BUILT_APPS';

/** A folder for the builds of one run: every file of browser tests uses the same build of a mode. */
export default async function buildOnce(project: TestProject): Promise<() => Promise<void>> {
  process.env[FOLDER] ??= await mkdtemp(join(tmpdir(), 'built-apps-'));
  const folder = process.env[FOLDER];
  project.provide('builtApps', folder);
  return () => rm(folder, { recursive: true, force: true });
}
