import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { BrowserContext } from 'playwright-core';
import { startBrowser } from '../browser/browser';
import { buildOwnApp, serveBuilt } from '../browser/built-app';
import { PHONE } from '../browser/open-page';
import { bigSurvey } from './appraise.bench';

export interface PageStart {
  /** Processor slowed so many times. */
  readonly slowed: number;
  /** First visit, and a second one with everything on the device: from asking for the page to a map at rest. */
  readonly coldMs: number;
  readonly warmMs: number;
  /** Zipped, kB: what the page needs before it shows anything, and everything that it can load. */
  readonly firstKB: number;
  readonly wholeKB: number;
  /** Heap of the page with a survey of so many readings, MB. */
  readonly readings: number;
  readonly heapMB: number;
}

const SLOWED = 6;

/** Opens the page as a cheap phone would, twice, and looks at what it weighs. */
export async function benchPageStart(): Promise<PageStart> {
  const app = await buildOwnApp('production');
  const survey = bigSurvey(20);
  const served = await serveBuilt(app, JSON.stringify(survey));
  const browser = await startBrowser();
  try {
    const context = await browser.newContext(PHONE);
    const coldMs = await opened(context, served.url);
    const page = await context.newPage();
    await page.goto(`${served.url}&inspect`);
    await page
      .waitForFunction(() => navigator.serviceWorker.controller !== null, undefined, { timeout: 60_000 })
      .catch(() => undefined);
    await page.close();
    const warmMs = await opened(context, served.url);
    const heapMB = await heapOf(context, served.url);
    const assets = join(app.distDir, 'assets');
    const html = await readFile(join(app.distDir, 'index.html'), 'utf8');
    const zipped = async (names: readonly string[]): Promise<number> => {
      const sizes = await Promise.all(names.map(async (name) => gzipSync(await readFile(join(assets, name))).length));
      return sizes.reduce((sum, size) => sum + size, 0) / 1000;
    };
    const all = (await readdir(assets)).filter((name) => /\.(js|css|wasm)$/.test(name));
    const first = all.filter((name) => html.includes(name));
    return {
      slowed: SLOWED,
      coldMs,
      warmMs,
      firstKB: await zipped(first),
      wholeKB: await zipped(all),
      readings: survey.readings.length,
      heapMB,
    };
  } finally {
    await browser.close();
    await served.close();
    await app.remove();
  }
}

async function opened(context: BrowserContext, address: string): Promise<number> {
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
  const start = performance.now();
  await page.goto(`${address}&inspect`);
  await page.waitForFunction(
    () => {
      const map = window.hollowline?.map as unknown as { loaded(): boolean; isMoving(): boolean } | undefined;
      return window.hollowline?.store.get().phase.kind === 'ready' && map?.loaded() === true && !map.isMoving();
    },
    undefined,
    { polling: 50, timeout: 180_000 },
  );
  const taken = performance.now() - start;
  await page.close();
  return taken;
}

async function heapOf(context: BrowserContext, address: string): Promise<number> {
  const page = await context.newPage();
  await page.goto(`${address}&inspect`);
  await page.waitForFunction(() => window.hollowline?.store.get().phase.kind === 'ready');
  const session = await context.newCDPSession(page);
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  await page.close();
  return usedSize / 1e6;
}
