import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Served } from '../../src/cli/serve';
import { correctReading } from '../../src/survey/edits';
import type { Survey } from '../../src/survey/survey';
import { demoContent } from '../app/demo-content';
import { normalFrom, uniformFrom } from '../helpers/blind-line';
import { startBrowser } from './browser';
import { type BuiltApp, buildApp, serveBuilt } from './built-app';
import { mapAtRest, openedPage, PHONE } from './open-page';

let browser: Browser;
let app: BuiltApp;
let served: Served;

beforeAll(async () => {
  [app, browser] = await Promise.all([buildApp('production'), startBrowser()]);
  served = await serveBuilt(app);
});
afterAll(async () => {
  await browser?.close();
  await served?.close();
  await app?.remove();
});

/** The works: between these chainages line A shows two thirds more than a year before. */
const [FROM_M, TO_M] = [28, 34];

/** The demo as it might have been read a year before: scatter of 2 %, and lower where the works will be. */
function yearBefore(): Survey {
  const { survey } = demoContent();
  const line = survey.lines.find(({ name }) => name === 'A');
  const scatter = normalFrom(uniformFrom(7));
  const dated = (day: string): string => day.replace(/^2026/, '2025');
  return {
    ...survey,
    site: { ...survey.site, name: 'The year before' },
    outings: survey.outings.map((outing) => (outing.date ? { ...outing, date: dated(outing.date) } : outing)),
    readings: survey.readings.map((reading) => {
      const { midpoint_m: at, value, time } = reading;
      const inWorks = reading.line === line?.id && typeof at === 'number' && at >= FROM_M && at <= TO_M;
      const before = Math.exp(0.02 * scatter()) * (inWorks ? 0.6 : 1);
      return {
        ...reading,
        ...(time ? { time: dated(time) } : {}),
        ...(typeof value === 'number' ? { value: value * before } : {}),
      };
    }),
  };
}

function corrected() {
  const { survey } = demoContent();
  const [first] = survey.readings;
  const change = first && correctReading(survey, first.id, { value: 111 }, { by: 'here', at: '2026-06-01T10:00:00Z' });
  if (!change?.ok) throw new Error('no such reading');
  return change.value;
}

const part = (page: Page) => page.locator('section.compare');

async function axe(page: Page): Promise<string[]> {
  await page.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
  const found: string[] = [];
  for (const theme of ['light', 'dark', 'sunlight'] as const) {
    await page.evaluate((look) => {
      const store = window.hollowline?.store as unknown as { dispatch(action: unknown): void };
      store.dispatch({ type: 'theme', theme: look });
    }, theme);
    const violations = await page.evaluate(async () => {
      const { axe } = window as unknown as {
        axe: { run(part: string): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
      };
      return (await axe.run('section.compare')).violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
    });
    found.push(...violations.map((each) => `${theme} ${each}`));
  }
  return found;
}

/** Strokes of a source that the map has drawn, by their place on the ramp. */
const strokes = (page: Page, layer: string): Promise<Record<string, number>> =>
  page.evaluate((name) => {
    const map = window.hollowline?.map as unknown as {
      queryRenderedFeatures(options: { layers: string[] }): { properties: { ramp: string } }[];
    };
    const count: Record<string, number> = {};
    for (const { properties } of map.queryRenderedFeatures({ layers: [name] })) {
      count[properties.ramp] = (count[properties.ramp] ?? 0) + 1;
    }
    return count;
  }, layer);

describe('an earlier survey of the same ground', () => {
  it('is taken from a file, compared beside the page, drawn, told, saved and closed again', async () => {
    const { page, complaints, close } = await openedPage(browser, served, PHONE);
    await part(page).getByRole('heading', { name: 'Compare with an earlier survey' }).waitFor();
    await part(page)
      .getByLabel('Files of the earlier survey')
      .setInputFiles({ name: 'x.csv', mimeType: 'text/csv', buffer: Buffer.from('a,b\n1,2\n') });
    await part(page).getByText('This cannot be read as a survey by itself.').waitFor();

    await part(page)
      .getByLabel('Files of the earlier survey')
      .setInputFiles({
        name: 'before.survey.json',
        mimeType: 'application/json',
        buffer: Buffer.from(JSON.stringify(yearBefore())),
      });
    const head = part(page).getByRole('heading', { name: 'Change since “The year before”' });
    await head.waitFor();
    await part(page).getByText('changed beyond chance').first().waitFor();

    // The surest are where the works were.
    const places = await part(page).getByRole('table').getByRole('button').allTextContents();
    expect(places.length).toBe(20);
    const inWorks = places.filter((words) => {
      const at = Number(/^Line A, ([\d.]+) m/.exec(words)?.[1]);
      return at >= FROM_M && at <= TO_M;
    });
    expect(inWorks.length).toBeGreaterThanOrEqual(19);
    await part(page).getByRole('button', { name: 'Next page' }).press('Enter');
    await part(page).getByText('21 to 40 shown').waitFor();

    const figure = part(page).getByRole('group', { name: 'Change since “The year before”, line A' });
    await figure.waitFor();
    await mapAtRest(page);
    const drawn = await strokes(page, 'change_segments');
    expect(drawn.clear_above ?? 0).toBeGreaterThan(0);
    expect(drawn.none ?? 0).toBeGreaterThan(0);
    expect(await page.locator('.map-key').textContent()).toContain('Change since The year before');
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    expect(await axe(page)).toEqual([]);

    for (const [name, words] of [
      ['changes.csv', 'higher_than_before'],
      ['changes.geojson', '"verdict":"higher_than_before"'],
    ] as const) {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        part(page).getByRole('button', { name }).click(),
      ]);
      const text = await readFile(await download.path(), 'utf8');
      expect(text.replace(/": "/g, '":"')).toContain(words);
    }

    // A row leads to its reading, and back to the comparison.
    await part(page).getByRole('table').getByRole('button').first().press('Enter');
    await page.getByRole('button', { name: 'Back', exact: true }).press('Enter');
    await part(page).getByRole('button', { name: 'Close the comparison' }).press('Enter');
    await part(page).getByRole('heading', { name: 'Compare with an earlier survey' }).waitFor();
    await mapAtRest(page);
    expect(await strokes(page, 'change_segments')).toEqual({});

    // One that is kept here, of which all but one reading is the same. It is not offered while it is the open one.
    await page.evaluate((edit) => window.hollowline?.commit(edit as never), corrected() as unknown);
    await page.getByRole('button', { name: 'Hand over' }).click();
    const ofDevice = page.getByRole('region', { name: 'On this device' });
    await ofDevice.getByText('Brackamore Slade').first().waitFor();
    await page.getByRole('button', { name: 'Read', exact: true }).click();
    await part(page).getByRole('button', { name: 'Take the earlier survey from a file' }).waitFor();
    expect(await part(page).getByRole('combobox').count()).toBe(0);
    await page.getByRole('button', { name: 'Hand over' }).click();
    await ofDevice.getByRole('button', { name: 'Show the demo' }).click();
    await page.getByRole('button', { name: 'Read', exact: true }).click();
    await part(page).getByRole('combobox', { name: 'Earlier' }).selectOption({ index: 1 });
    await part(page).getByRole('button', { name: 'Compare', exact: true }).press('Enter');
    await part(page).getByText('readings are the same in both surveys').waitFor();
    expect(complaints).toEqual([]);
    await close();
  });
});
