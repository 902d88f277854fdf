import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Served } from '../../src/cli/serve';
import { correctReading } from '../../src/survey/edits';
import { demoContent } from '../app/demo-content';
import { startBrowser } from './browser';
import { type BuiltApp, buildApp, serveBuilt } from './built-app';
import { DESK, mapAtRest, openedPage } from './open-page';

let browser: Browser;
let app: BuiltApp;
let served: Served;

beforeAll(async () => {
  app = await buildApp('production');
  served = await serveBuilt(app);
  browser = await startBrowser();
});
afterAll(async () => {
  await browser?.close();
  await served?.close();
  await app?.remove();
});

describe('a survey on the device', () => {
  it('is kept from the first edit, and a reload has it and its view again', async () => {
    const { page, complaints, close } = await openedPage(browser, served, DESK);
    const { survey } = demoContent();
    const reading = survey.readings[700];
    if (!reading) throw new Error('the demo has fewer readings');
    const change = correctReading(survey, reading.id, { value: 4321 }, { by: 'test', at: '2026-05-12T10:00:00Z' });
    if (!change.ok) throw new Error(change.sentence);
    await page.evaluate((edit) => window.hollowline?.commit(edit as never), change.value as unknown);
    await page.waitForFunction(() => window.hollowline?.store.get().kept === 'kept');
    await page.evaluate(() => {
      const map = window.hollowline?.map as unknown as { jumpTo(view: object): void };
      map.jumpTo({ center: [-91.9136, 37.4087], zoom: 20.5 });
    });
    await page.reload();
    await mapAtRest(page);
    const after = await page.evaluate((id) => {
      const state = window.hollowline?.store.get();
      const map = window.hollowline?.map;
      const content = state?.phase.kind === 'ready' ? state.phase.content : null;
      return {
        value: content?.survey.readings.find((each) => each.id === id)?.value,
        kept: state?.kept,
        zoom: map?.getZoom(),
      };
    }, reading.id as string);
    expect(after).toEqual({ value: 4321, kept: 'kept', zoom: 20.5 });
    expect(complaints).toEqual([]);
    await close();
  });

  it('can be left for the demo and opened again', async () => {
    const { page, complaints, close } = await openedPage(browser, served, DESK);
    const { survey } = demoContent();
    const reading = survey.readings[700];
    const change = reading ? correctReading(survey, reading.id, { value: 777 }, { by: 'test', at: 'now' }) : null;
    if (!change?.ok || !reading) throw new Error('no change was made');
    const valueNow = () =>
      page.evaluate((id) => {
        const { phase } = window.hollowline?.store.get() ?? {};
        return phase?.kind === 'ready' ? phase.content.survey.readings.find((each) => each.id === id)?.value : null;
      }, reading.id as string);
    await page.evaluate((edit) => window.hollowline?.commit(edit as never), change.value as unknown);
    await page.waitForFunction(() => window.hollowline?.store.get().kept === 'kept');
    await page.getByRole('button', { name: 'Hand over' }).click();
    await page.getByRole('button', { name: 'Show the demo' }).click();
    await page.waitForFunction(() => window.hollowline?.store.get().kept === 'fresh');
    await expect.poll(valueNow).toBe(reading.value);
    await page.getByRole('button', { name: 'Open Brackamore Slade' }).click();
    await expect.poll(valueNow).toBe(777);
    expect(complaints).toEqual([]);
    await close();
  });
});

describe('the app', () => {
  it('opened and closed twenty times leaves one map and keeps no drawing surface of the others', async () => {
    const { page, complaints, close } = await openedPage(browser, served, DESK);
    for (let round = 0; round < 20; round += 1) {
      const before = await page.evaluateHandle(() => window.hollowline?.map);
      await page.evaluate(() => window.remountHollowline?.());
      await page.waitForFunction((old) => window.hollowline?.map !== old, before);
    }
    await mapAtRest(page);
    expect(await page.evaluate(() => document.querySelectorAll('canvas').length)).toBe(1);
    // Browsers allow some sixteen drawing surfaces and take the oldest away with a warning, which would be a complaint.
    expect(complaints).toEqual([]);
    await close();
  });
});
