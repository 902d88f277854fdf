import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { type Served, serveApp } from '../../src/cli/serve';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const run = promisify(execFile);

export interface BuiltApp {
  readonly distDir: string;
  remove(): Promise<void>;
}

type Mode = 'production' | 'development';

/**
 * The app, built at the first asking of a run. Nobody may write into it. `development` keeps React's strict checks, which
 * mount everything twice.
 */
export async function buildApp(mode: Mode): Promise<BuiltApp> {
  const { inject } = await import('vitest');
  const distDir = join(inject('builtApps'), mode);
  const half = `${distDir}-half`;
  // Files run side by side: the first to make the folder builds, the others wait for it.
  const isFirst = await mkdir(half).then(
    () => true,
    () => false,
  );
  if (isFirst) {
    await buildInto(half, mode);
    await symlink(half, distDir);
  }
  for (const until = Date.now() + WAIT_MS; !existsSync(distDir); ) {
    if (Date.now() > until) throw new Error(`the ${mode} build of another test file did not come`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return { distDir, remove: async () => {} };
}

const WAIT_MS = 90_000;

/** The app in a folder of its own, which goes away with `remove`. */
export async function buildOwnApp(mode: Mode): Promise<BuiltApp> {
  const distDir = await mkdtemp(join(tmpdir(), `app-${mode}-`));
  await buildInto(distDir, mode);
  return { distDir, remove: () => rm(distDir, { recursive: true, force: true }) };
}

/** In a process of its own, since a test runner sets NODE_ENV for itself. */
async function buildInto(distDir: string, mode: Mode): Promise<void> {
  const vite = join(ROOT, 'node_modules', 'vite', 'bin', 'vite.js');
  await run(process.execPath, [vite, 'build', '--mode', mode, '--outDir', distDir, '--logLevel', 'warn'], {
    cwd: ROOT,
    env: { ...process.env, NODE_ENV: mode, VITE_CONFIG_NATIVE_IGNORE_WARNING: 'true' },
  });
}

/** Serves a built app at a free port, with a survey of the test's own if it wants one. */
export function serveBuilt({ distDir }: BuiltApp, surveyJson?: string): Promise<Served> {
  return serveApp({ distDir, port: 0, host: '127.0.0.1', ...(surveyJson === undefined ? {} : { surveyJson }) });
}
