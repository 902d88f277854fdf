import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { correctReading } from '../../src/survey/edits';
import { demoContent } from '../app/demo-content';
import { mapAtRest, PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

describe('a survey on the device', () => {
  it('is kept from the first edit, and a reload has it and its view again', async () => {
    const page = await stage.open();
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
  });

  it('can be left for the demo and opened again', async () => {
    const page = await stage.open();
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
    await expect.poll(valueNow, { timeout: 30_000 }).toBe(reading.value);
    await page.getByRole('button', { name: 'Open Brackamore Slade' }).click();
    await expect.poll(valueNow, { timeout: 30_000 }).toBe(777);
  });
});

describe('a survey that is open in two tabs', () => {
  it('is written in one of them, as the other one says; which one can be changed', async () => {
    const page = await stage.open();
    const rename = (on: Page, name: string) =>
      on.evaluate((to) => {
        const { phase } = window.hollowline?.store.get() ?? {};
        if (phase?.kind !== 'ready') throw new Error('nothing is open');
        const site = { ...phase.content.survey.site, name: to };
        return window.hollowline?.commit({ label: `Name it ${to}`, site });
      }, name);
    const named = (on: Page, name: string) => on.getByRole('heading', { level: 1, name }).waitFor();
    await rename(page, 'First ground');
    const other = await page.context().newPage();
    await other.goto(`${stage.served.url}?inspect`);
    await mapAtRest(other);
    await other.getByText('Open in another tab, which writes; this one follows.').waitFor();
    expect(await page.getByText('this one follows').count()).toBe(0);
    await rename(page, 'Second ground');
    await named(other, 'Second ground');

    expect(await rename(other, 'Nowhere')).toMatchObject({ ok: false, code: 'other_tab_writes' });
    await other.getByText('Nothing was entered').waitFor();
    await other.getByRole('button', { name: 'Write here' }).click();
    await page.getByText('this one follows').waitFor();
    await other.getByText('this one follows').waitFor({ state: 'detached' });
    await rename(other, 'Third ground');
    await named(page, 'Third ground');
    // What was done in either tab can be taken back in the one that writes.
    await other.getByRole('button', { name: 'Record', exact: true }).click();
    await other.getByRole('button', { name: 'Undo: Name it Third ground' }).click();
    await other.getByRole('button', { name: 'Undo: Name it Second ground' }).waitFor();
    await named(page, 'Second ground');
  });
});

describe('a survey sent by the share sheet', () => {
  it('is the whole of it as a text file, which can be brought in again', async () => {
    const page = await stage.open(PHONE);
    await page.evaluate(() => {
      const shared = window as unknown as { sent: Promise<{ name: string; text: string }> };
      shared.sent = new Promise((resolve) => {
        Object.assign(navigator, {
          // Browsers take few kinds of files; JSON is not among them.
          canShare: ({ files }: ShareData) => files?.every(({ type }) => type === 'text/plain') === true,
          share: async ({ files }: ShareData) => {
            const [file] = files ?? [];
            if (file) resolve({ name: file.name, text: await file.text() });
          },
        });
      });
    });
    await page.getByRole('button', { name: 'Hand over' }).click();
    await page.getByRole('button', { name: 'Send a copy' }).click();
    const sent = await page.evaluate(() => (window as unknown as { sent: Promise<unknown> }).sent);
    const { name, text } = sent as { name: string; text: string };
    expect(name).toBe('brackamore-slade.survey.txt');
    const mine = text.replace('"Brackamore Slade"', '"Come back"');
    const file = { name, mimeType: 'text/plain', buffer: Buffer.from(mine) };
    await page.getByLabel('Files to bring in').setInputFiles([file]);
    await page.getByRole('heading', { level: 1, name: 'Come back' }).waitFor();
    const back = await page.evaluate(() => {
      const { phase } = window.hollowline?.store.get() ?? {};
      return phase?.kind === 'ready' ? JSON.stringify(phase.content.survey) : null;
    });
    expect(JSON.parse(back ?? '')).toEqual(JSON.parse(mine));
  });
});

describe('the app', () => {
  it('opened and closed twenty times leaves one map and keeps no drawing surface of the others', async () => {
    const page = await stage.open();
    for (let round = 0; round < 20; round += 1) {
      const before = await page.evaluateHandle(() => window.hollowline?.map);
      await page.evaluate(() => window.remountHollowline?.());
      await page.waitForFunction((old) => window.hollowline?.map !== old, before);
    }
    await mapAtRest(page);
    expect(await page.evaluate(() => document.querySelectorAll('canvas').length)).toBe(1);
    // Browsers allow some sixteen drawing surfaces and take the oldest away with a warning, which would be a complaint.
  });
});
