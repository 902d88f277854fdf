import { cp, mkdir, mkdtemp, readdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type Served, serveApp } from '../../src/cli/serve';
import { startBrowser, type WatchedPage, watchedPage } from './browser';
import { type BuiltApp, buildApp } from './built-app';
import { mapAtRest, strokesDrawn } from './open-page';

/** Two builds of the same program, which differ in every script. */
let builds: readonly [BuiltApp, BuiltApp];
let browser: Browser;
let folder: string;
let served: Served;
let opened: WatchedPage[] = [];

beforeAll(async () => {
  browser = await startBrowser();
  builds = [await buildApp('production'), await buildApp('development')];
  folder = await mkdtemp(join(tmpdir(), 'served-'));
}, 240_000);

afterEach(async () => {
  await Promise.all(opened.map(({ close }) => close()));
  opened = [];
  await served?.close();
});

afterAll(async () => {
  await browser?.close();
  await Promise.all((builds ?? []).map((build) => build.remove()));
  if (folder) await rm(folder, { recursive: true, force: true });
});

/** Puts a build where the server looks, as a deployment does: all at once. */
async function deploy(distDir: string): Promise<void> {
  await symlink(distDir, join(folder, 'next'));
  await rename(join(folder, 'next'), join(folder, 'now'));
}

const serve = (port: number, distDir = join(folder, 'now')): Promise<Served> =>
  serveApp({ distDir, port, host: '127.0.0.1' });

const nameOf = async (distDir: string): Promise<string> =>
  /hollowline-build" content="([0-9a-f]{8})"/.exec(await readFile(join(distDir, 'index.html'), 'utf8'))?.[1] ?? '';

const buildIn = (page: Page): Promise<string> =>
  page.evaluate(() => document.querySelector<HTMLMetaElement>('meta[name="hollowline-build"]')?.content ?? '');

async function visit(page: Page, url: string): Promise<void> {
  await page.goto(`${url}?inspect`);
  await mapAtRest(page);
}

/** Opens the page for the first time on a device, and waits until the device has it whole. */
async function firstVisit(url: string): Promise<WatchedPage> {
  const watched = await watchedPage(browser, { viewport: { width: 900, height: 560 } });
  opened.push(watched);
  await visit(watched.page, url);
  await watched.page.getByRole('button', { name: 'Hand over' }).click();
  await watched.page.getByText('it opens without signal').waitFor();
  return watched;
}

/** The pieces of the page that are loaded only when they are asked for. */
async function openEveryPiece(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Lay out' }).click();
  await page.getByRole('heading', { name: 'Lines' }).first().waitFor();
  await page.getByRole('button', { name: 'Record', exact: true }).click();
  await page.getByRole('grid').waitFor();
}

describe('the page on a device', () => {
  it('opens with the server stopped from the second opening on, with all its pieces', async () => {
    await deploy(builds[0].distDir);
    served = await serve(0);
    const { page, complaints } = await firstVisit(served.url);
    await served.close();
    await page.reload();
    await mapAtRest(page);
    expect(await strokesDrawn(page)).toBeGreaterThan(100);
    await openEveryPiece(page);
    await page.getByRole('button', { name: 'Hand over' }).click();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'segments.geojson' }).click();
    expect((await download).suggestedFilename()).toBe('segments.geojson');
    expect(complaints).toEqual([]);
  });

  it('opens so also from a folder of another server', async () => {
    const root = join(folder, 'root');
    await mkdir(join(root, 'deep'), { recursive: true });
    await cp(builds[0].distDir, join(root, 'deep', 'er'), { recursive: true, dereference: true });
    await writeFile(join(root, 'index.html'), 'another page');
    served = await serve(0, root);
    const { page, complaints } = await firstVisit(`${served.url}deep/er/`);
    await served.close();
    await page.goto(`${served.url}deep/er/index.html?inspect`);
    await mapAtRest(page);
    expect(await strokesDrawn(page)).toBeGreaterThan(100);
    expect(complaints).toEqual([]);
  });

  it('can be installed', async () => {
    await deploy(builds[0].distDir);
    served = await serve(0);
    const { page } = await firstVisit(served.url);
    const tools = await page.context().newCDPSession(page);
    const { errors, data } = await tools.send('Page.getAppManifest');
    expect(errors).toEqual([]);
    const { icons } = JSON.parse(data ?? '{}') as { icons: { src: string; sizes: string }[] };
    for (const { src, sizes } of icons) {
      // Width and height of a PNG stand in bytes 16 to 23 (W3C PNG, 11.2.1 IHDR).
      const image = await readFile(join(builds[0].distDir, src));
      expect([image.readUInt32BE(16), image.readUInt32BE(20)].join('x')).toBe(sizes);
    }
    const { installabilityErrors } = await tools.send('Page.getInstallabilityErrors');
    // A private window, as tests have it, installs nothing.
    expect(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')).toEqual([]);
  });

  it('leaves a survey that a server brings to that server', async () => {
    await deploy(builds[0].distDir);
    served = await serve(0);
    const { page } = await firstVisit(served.url);
    const port = served.port;
    await served.close();
    const surveyJson = await readFile(join(builds[0].distDir, await demoSurveyIn(builds[0].distDir)), 'utf8');
    served = await serveApp({
      distDir: builds[0].distDir,
      port,
      host: '127.0.0.1',
      surveyJson: surveyJson.replace('Brackamore Slade', 'Another Ground'),
    });
    await page.goto(served.url);
    await page.getByRole('heading', { name: 'Another Ground' }).first().waitFor();
  });
});

const demoSurveyIn = async (distDir: string): Promise<string> => {
  const name = (await readdir(join(distDir, 'assets'))).find((file) => file.endsWith('.json'));
  if (!name) throw new Error('the build has no demo');
  return join('assets', name);
};

describe('a new version', () => {
  it('waits until a person takes it, and tabs that have not go on with their own pieces', async () => {
    const [before, after] = await Promise.all(builds.map(({ distDir }) => nameOf(distDir)));
    expect(before).not.toBe(after);
    await deploy(builds[0].distDir);
    served = await serve(0);
    const { page, complaints } = await firstVisit(served.url);
    await deploy(builds[1].distDir);

    await page.reload();
    await mapAtRest(page);
    expect(await buildIn(page)).toBe(before);
    await page.getByText(`A new version is here (${after}; this one is ${before}).`).waitFor();
    await page.getByRole('button', { name: 'Later' }).click();
    expect(await page.getByText('A new version is here').count()).toBe(0);

    const other = await page.context().newPage();
    await visit(other, served.url);
    expect(await buildIn(other)).toBe(before);
    await other.getByRole('button', { name: 'Use it now' }).click();
    await other.waitForFunction(
      (name) => document.querySelector<HTMLMetaElement>('meta[name="hollowline-build"]')?.content === name,
      after,
    );
    await mapAtRest(other);
    await openEveryPiece(other);

    // The server has nothing of the first build any more.
    await openEveryPiece(page);
    expect(await buildIn(page)).toBe(before);
    await served.close();
    await other.reload();
    await mapAtRest(other);
    expect(await buildIn(other)).toBe(after);
    expect(complaints).toEqual([]);
  });

  it('can be taken back by putting the old one on the server', async () => {
    const [, after] = await Promise.all(builds.map(({ distDir }) => nameOf(distDir)));
    await deploy(builds[1].distDir);
    served = await serve(0);
    const { page } = await firstVisit(served.url);
    expect(await buildIn(page)).toBe(after);
    await deploy(builds[0].distDir);
    await page.reload();
    await page.getByRole('button', { name: 'Use it now' }).click();
    await page.waitForFunction(
      (name) => document.querySelector<HTMLMetaElement>('meta[name="hollowline-build"]')?.content !== name,
      after,
    );
    await mapAtRest(page);
    expect(await strokesDrawn(page)).toBeGreaterThan(100);
  });

  it('is not taken in part: where one file is of another build, all stays as it was', async () => {
    const before = await nameOf(builds[0].distDir);
    await deploy(builds[0].distDir);
    served = await serve(0);
    const { page } = await firstVisit(served.url);
    const broken = join(folder, 'broken');
    await cp(builds[1].distDir, broken, { recursive: true, dereference: true });
    await cp(join(builds[0].distDir, 'index.html'), join(broken, 'index.html'));
    await deploy(broken);
    const refused = page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      const found = new Promise<ServiceWorker | null>((resolve) => {
        registration.addEventListener('updatefound', () => resolve(registration.installing));
      });
      await registration.update();
      const worker = await found;
      await new Promise<void>((resolve) => {
        if (worker?.state === 'redundant') resolve();
        worker?.addEventListener('statechange', () => worker.state === 'redundant' && resolve());
      });
      return registration.waiting === null;
    });
    expect(await refused).toBe(true);
    await served.close();
    await page.reload();
    await mapAtRest(page);
    expect(await buildIn(page)).toBe(before);
    expect(await page.getByText('A new version is here').count()).toBe(0);
  });
});
