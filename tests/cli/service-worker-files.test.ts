import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runInNewContext } from 'node:vm';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fillServiceWorker, SERVICE_WORKER } from '../../src/cli/build/service-worker-files';

/** SHA-256 of "abc": FIPS 180-2, appendix B.1, ba7816bf … f20015ad, in base64. */
const ABC = 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=';

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'built-'));
  await mkdir(join(folder, 'assets', 'deep'), { recursive: true });
  await writeFile(join(folder, 'assets', 'deep', 'piece.js'), 'abc');
  await writeFile(join(folder, 'index.html'), '<meta name="hollowline-build" content="__BUILD__" />');
  await writeFile(join(folder, SERVICE_WORKER), 'told = { build: __BUILD__, files: __FILES__ };');
});
afterEach(() => rm(folder, { recursive: true, force: true }));

async function filled(): Promise<{ build: string; files: [string, string][]; page: string }> {
  await fillServiceWorker(folder);
  const context: { told?: { build: string; files: [string, string][] } } = {};
  runInNewContext(await readFile(join(folder, SERVICE_WORKER), 'utf8'), context);
  if (!context.told) throw new Error('the worker says nothing');
  return { ...context.told, page: await readFile(join(folder, 'index.html'), 'utf8') };
}

describe('the service worker of a build', () => {
  it('knows every file with its digest, the page as the folder, and itself not at all', async () => {
    const { build, files, page } = await filled();
    expect(files.map(([path]) => path)).toEqual(['assets/deep/piece.js', './']);
    expect(files[0]?.[1]).toBe(ABC);
    expect(build).toMatch(/^[0-9a-f]{8}$/);
    expect(page).toContain(`content="${build}"`);
  });

  it('has another name as soon as any file is another, and the same name for the same files', async () => {
    const page = await readFile(join(folder, 'index.html'), 'utf8');
    const worker = await readFile(join(folder, SERVICE_WORKER), 'utf8');
    const again = async (piece: string): Promise<string> => {
      await writeFile(join(folder, 'index.html'), page);
      await writeFile(join(folder, SERVICE_WORKER), worker);
      await writeFile(join(folder, 'assets', 'deep', 'piece.js'), piece);
      return (await filled()).build;
    };
    const first = await again('abc');
    expect(await again('abd')).not.toBe(first);
    expect(await again('abc')).toBe(first);
  });

  it('is refused where the build has no place for what it has to know', async () => {
    await writeFile(join(folder, SERVICE_WORKER), 'told = { build: __BUILD__ };');
    await expect(fillServiceWorker(folder)).rejects.toThrow('__FILES__');
  });
});
