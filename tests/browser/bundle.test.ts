import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BuiltApp, buildApp } from './built-app';

let app: BuiltApp;

beforeAll(async () => {
  app = await buildApp('production');
});

afterAll(() => app?.remove());

/** The scripts that the page loads before anything else, and what they load without being asked. */
async function initialScripts(distDir: string): Promise<Map<string, string>> {
  const html = await readFile(join(distDir, 'index.html'), 'utf8');
  const wanted = [...html.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map(([, path]) => path ?? '');
  const scripts = new Map<string, string>();
  for (let path = wanted.pop(); path !== undefined; path = wanted.pop()) {
    if (scripts.has(path)) continue;
    const text = await readFile(join(distDir, path), 'utf8');
    scripts.set(path, text);
    for (const [, next] of text.matchAll(/(?:^|[;}\s])import(?:[^"'()]*from)?["']\.\/([^"']+\.js)["']/g)) {
      wanted.push(`assets/${next}`);
    }
  }
  return scripts;
}

it('starts with at most 200 kB of zipped script, without the map, the EPSG table or the schemas', async () => {
  const scripts = await initialScripts(app.distDir);
  expect(scripts.size).toBeGreaterThan(0);
  const zipped = [...scripts.values()].reduce((sum, text) => sum + gzipSync(text).length, 0);
  expect(zipped).toBeLessThan(200_000);
  const all = [...scripts.values()].join('\n');
  const held = ['createRoot', '+proj=', 'WebGL2RenderingContext', 'hollowline-survey'].filter((text) =>
    all.includes(text),
  );
  expect(held).toEqual(['createRoot']);
});
