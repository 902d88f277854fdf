import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeOnlinePage } from '../../src/cli/build/online-page';
import { fillServiceWorker, SERVICE_WORKER } from '../../src/cli/build/service-worker-files';
import { headersOf, ONLINE_POLICY, PAGE_POLICY } from '../../src/cli/security-headers';
import { serveApp } from '../../src/cli/serve';

const HEAD = (policy: string) =>
  `<meta http-equiv="Content-Security-Policy" content="${policy}" /><meta content="__BUILD__" /><title>Hollowline</title>`;

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'built-'));
  await mkdir(join(folder, 'assets'));
  await writeFile(join(folder, 'index.html'), HEAD(PAGE_POLICY));
  await writeFile(join(folder, 'assets', 'online.html'), 'not a page of ours');
  await writeFile(join(folder, SERVICE_WORKER), '[__BUILD__, __FILES__]');
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** Sources by directive. */
const parsed = (policy: string): Record<string, string[]> =>
  Object.fromEntries(
    policy.split(';').map((part): [string, string[]] => {
      const [name = '', ...sources] = part.trim().split(/\s+/);
      return [name, sources];
    }),
  );

describe('the page that may load tiles', () => {
  it('may ask other servers for pictures and data, safely, and nothing else that the page may not', () => {
    const [strict, wide] = [parsed(PAGE_POLICY), parsed(ONLINE_POLICY)];
    expect(Object.keys(wide)).toEqual(Object.keys(strict));
    for (const [name, sources] of Object.entries(wide)) {
      const more = sources.filter((source) => !strict[name]?.includes(source));
      expect([name, more]).toEqual([name, ['img-src', 'connect-src'].includes(name) ? ['https:'] : []]);
    }
    expect(PAGE_POLICY).not.toContain('https:');
  });

  it('is the built page with another policy, in the service worker’s list with the digest of what is served', async () => {
    await makeOnlinePage(folder);
    await fillServiceWorker(folder);
    const [page, online, worker] = await Promise.all(
      ['index.html', 'online.html', SERVICE_WORKER].map((name) => readFile(join(folder, name), 'utf8')),
    );
    expect(page).toContain(`content="${PAGE_POLICY}"`);
    expect(page).not.toContain('hollowline-tiles');
    expect(online).toContain(`content="${ONLINE_POLICY}"`);
    expect(online).toContain('hollowline-tiles');
    expect(online).not.toContain('__BUILD__');
    const [, files] = JSON.parse(worker ?? '') as [string, [string, string][]];
    const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(online));
    expect(new Map(files).get('online.html')).toBe(`sha256-${Buffer.from(digest).toString('base64')}`);
  });

  it('is not made from a page that does not state its policy', async () => {
    await writeFile(join(folder, 'index.html'), HEAD("default-src 'none'"));
    await expect(makeOnlinePage(folder)).rejects.toThrow('policy');
  });

  it('alone is served with the wider policy', async () => {
    await makeOnlinePage(folder);
    const served = await serveApp({ distDir: folder, port: 0, host: '127.0.0.1' });
    const said = async (path: string) =>
      (await fetch(new URL(path, served.url))).headers.get('content-security-policy')?.includes('https:');
    try {
      expect([await said(''), await said('index.html'), await said('assets/online.html'), await said('gone')]).toEqual(
        Array(4).fill(false),
      );
      expect(await said('online.html')).toBe(true);
      expect(await said('./online.html?survey=x')).toBe(true);
    } finally {
      await served.close();
    }
    expect(headersOf('online.html')['Referrer-Policy']).toBe('no-referrer');
  });
});
