import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { commandLine } from '../../src/cli/command-line';

const ROOT = resolve(import.meta.dirname, '../..');

export interface Ran {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the command line in this process: what `src/cli/main.ts` does but for the pipes. */
export async function runCli(...args: readonly string[]): Promise<Ran> {
  const [out, complaints]: [string[], string[]] = [[], []];
  const code = await commandLine(
    args,
    (text) => out.push(`${text}\n`),
    (text) => complaints.push(`${text}\n`),
  );
  return { code, stdout: out.join(''), stderr: complaints.join('') };
}

/** Runs the command line as its own process, as a user does. */
export function runProgram(...args: readonly string[]): Ran {
  const ran = spawnSync(process.execPath, ['--import', 'tsx', join(ROOT, 'src/cli/main.ts'), ...args], {
    cwd: ROOT,
    encoding: 'utf8',
    timeout: 60_000,
    maxBuffer: 64 * 1024 * 1024,
  });
  return { code: ran.status, stdout: ran.stdout, stderr: ran.stderr };
}

/** A fresh folder with these files in it. */
export function folderWith(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'hollowline-test-'));
  for (const [name, content] of Object.entries(files)) {
    const path = join(folder, name);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, content);
  }
  return folder;
}
