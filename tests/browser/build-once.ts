import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  export interface ProvidedContext {
    builtApps: string;
  }
}

/** A folder for the builds of one run: every file of browser tests uses the same build of a mode. */
export default async function buildOnce(project: TestProject): Promise<() => Promise<void>> {
  const folder = await mkdtemp(join(tmpdir(), 'built-apps-'));
  project.provide('builtApps', folder);
  return () => rm(folder, { recursive: true, force: true });
}
