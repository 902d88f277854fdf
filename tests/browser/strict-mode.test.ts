import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Served } from '../../src/cli/serve';
import { startBrowser } from './browser';
import { type BuiltApp, buildApp, serveBuilt } from './built-app';
import { DESK, openedPage } from './open-page';

let app: BuiltApp;
let served: Served;
let browser: Browser;

beforeAll(async () => {
  [app, browser] = await Promise.all([buildApp('development'), startBrowser()]);
  served = await serveBuilt(app);
});

afterAll(async () => {
  await browser?.close();
  await served?.close();
  await app?.remove();
});

it('mounts twice under React’s strict checks and still has one map', async () => {
  const { page, complaints, close } = await openedPage(browser, served, DESK);
  await page.waitForTimeout(500);
  expect(await page.locator('canvas').count()).toBe(1);
  expect(await page.locator('.maplibregl-canvas').count()).toBe(1);
  expect(complaints).toEqual([]);
  await close();
});
