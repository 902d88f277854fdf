import { readFile } from 'node:fs/promises';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectNothingForAxe } from './axe';
import { DESK, mapAtRest, PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

/** A search on a busy machine. */
const PATIENCE_MS = 120_000;

const zones = (page: Page) => page.getByRole('region', { name: 'Zones' });
const doubts = (page: Page) => page.getByRole('region', { name: 'Doubts' });
const site = (page: Page) => page.getByRole('region', { name: 'The site against its reference' });
const card = (page: Page) => page.getByRole('article');
/** What the card says under a term. */
const said = (page: Page, term: string) =>
  card(page).locator('.told div').filter({ hasText: term }).locator('dd').allTextContents();

async function opened(options: BrowserContextOptions): Promise<Page> {
  const page = await stage.open(options);
  page.setDefaultTimeout(PATIENCE_MS);
  await zones(page).waitFor();
  await site(page).waitFor();
  return page;
}

/** Features of a layer that are in the map, and how many of them are drawn in what is in sight. */
function onTheMap(page: Page, source: string): Promise<{ held: number; drawn: number }> {
  return page.evaluate(async (id) => {
    const map = window.hollowline?.map as unknown as {
      getSource(id: string): { getData(): Promise<GeoJSON.FeatureCollection> };
      queryRenderedFeatures(options: { layers: string[] }): unknown[];
    };
    const { features } = await map.getSource(id).getData();
    return { held: features.length, drawn: map.queryRenderedFeatures({ layers: [id] }).length };
  }, source);
}

describe('zones', { timeout: 3 * PATIENCE_MS }, () => {
  it.each([
    ['at a desk', DESK],
    ['on a phone', PHONE],
  ] as const)(
    'are listed, and a tap says what is known, what else it could be and what to do (%s)',
    async (_, options) => {
      const page = await opened(options);
      const list = zones(page).getByRole('button');
      expect(await list.count()).toBeGreaterThan(2);
      // Grades alone are never said to be a void.
      for (const words of await list.allTextContents())
        expect(words).toMatch(/^Zone \d.+Not resolved; .+strongest ×\d/);
      // Doubts lie closed, so what is in them is not looked through yet.
      await doubts(page).getByText('Repeats disagree').click();
      await expectNothingForAxe(page);

      await list.first().click();
      await card(page).waitFor();
      expect(await card(page).getByRole('heading', { level: 2 }).textContent()).toMatch(/^Zone 1, line A, /);
      const known = await said(page, 'Known');
      expect(known.length).toBeGreaterThan(1);
      expect(known.join(' ')).toMatch(/above the reference; the strongest is 1\.\d\d ± 0\.\d\d times it/);
      expect((await said(page, 'What else it could be')).join(' ')).toContain('Uneven soil');
      expect((await said(page, 'What to do')).join(' ')).toContain('Ask for the search along the line');
      const next = card(page).getByRole('listitem').filter({ hasText: 'If a void' });
      await card(page).getByRole('heading', { name: 'Worth reading next' }).waitFor();
      expect(await next.count()).toBeGreaterThan(0);
      expect(await next.first().textContent()).toMatch(/If a void ×\d.*; if contact .*; if uneven soil /);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(options.viewport?.width);
      await expectNothingForAxe(page);

      await mapAtRest(page);
      const stakes = await onTheMap(page, 'next_readings');
      expect(stakes.held).toBeGreaterThan(0);
      expect(stakes.drawn).toBeGreaterThan(0);
    },
  );

  it('read as a void would after a search that has one, on all the lines that were searched together', async () => {
    const page = await opened(DESK);
    const before = await onTheMap(page, 'next_readings');
    await page.getByRole('combobox', { name: 'Line' }).selectOption({ label: 'Line A' });
    await page.getByRole('button', { name: 'Search the line for a void' }).click();
    const first = zones(page).getByRole('button').filter({ hasText: 'Reads as a void would' });
    await first.waitFor();
    expect(await first.count()).toBe(1);
    await first.click();
    await card(page).waitFor();

    const title = (await card(page).getByRole('heading', { level: 2 }).textContent()) ?? '';
    const [name, lines = ''] = title.split(', lines ');
    expect(name).toBe('Zone 1');
    expect(lines.split(', ').sort()).toEqual(['A', 'B', 'C']);
    // The passage of the demo lies under line A at 18.8 m (demo-data/truth.json).
    expect((await said(page, 'Where on each line')).join(' ')).toMatch(
      /^Line A at 1[89](\.\d)? m \(.+\); Line B at .+; Line C at /,
    );
    expect((await said(page, 'What else it could be')).join(' ')).toContain('this does not prove a void');
    await mapAtRest(page);
    const after = await onTheMap(page, 'next_readings');
    expect(before.held).toBeGreaterThan(0);
    expect(after.held).toBeGreaterThan(0);
    expect(after.drawn).toBeGreaterThan(0);
  });
});

describe('doubts and the site', { timeout: PATIENCE_MS }, () => {
  it('lie by kind with their number, open with the keyboard, and lead to their cause', async () => {
    const page = await opened(DESK);
    const kinds = await doubts(page).locator('summary').allTextContents();
    expect(kinds).toContain('Repeats disagree, 2 Look first');
    expect(kinds).toContain('Read once, 8 Worth knowing');
    const firstNote = kinds.findIndex((words) => words.includes('Worth knowing'));
    expect(kinds.slice(firstNote).every((words) => words.includes('Worth knowing'))).toBe(true);

    const group = doubts(page).locator('summary').filter({ hasText: 'Repeats disagree' });
    const cause = doubts(page).getByRole('button').filter({ hasText: 'Line C, 24 m at spacing 3 m: 2 repeats' });
    expect(await cause.isVisible()).toBe(false);
    await group.focus();
    await page.keyboard.press('Enter');
    await cause.waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await card(page).waitFor();
    expect(await page.locator('#card-head').textContent()).toBe('Line C, 24\u00a0m, spacing 3\u00a0m');
    await page.getByRole('button', { name: 'Back', exact: true }).click();
    // It is as it was left.
    expect(await cause.isVisible()).toBe(true);
  });

  it('show every line against its reference, one chart for each hookup, and give each as a file', async () => {
    const page = await opened(PHONE);
    for (const hookup of ['pole-pole', 'Wenner alpha', 'two-probe']) {
      await site(page)
        .getByRole('group', { name: `The lines against their reference, ${hookup}` })
        .waitFor();
    }
    const download = page.waitForEvent('download');
    await site(page).getByRole('button', { name: 'Download this pole-pole chart (SVG)' }).tap();
    const file = await download;
    expect(file.suggestedFilename()).toBe('lines-against-reference-pole-pole.svg');
    expect(await readFile(await file.path(), 'utf8')).not.toContain('var(--');
  });

  it('are compared anew when a quiet part of a line is made the reference, and undone', async () => {
    const page = await opened(DESK);
    const ratiosOf = () =>
      page.evaluate(() => {
        const phase = window.hollowline?.store.get().phase;
        if (phase?.kind !== 'ready') return 0;
        return new Set(phase.content.findings.references.flatMap(({ references }) => references)).size;
      });
    const before = await ratiosOf();
    await page.getByText('Use a quiet part of a line as reference').click();
    await page.getByRole('combobox', { name: 'Line' }).last().selectOption({ label: 'Line D' });
    await page.getByRole('textbox', { name: 'From, m' }).fill('2');
    await page.getByRole('textbox', { name: 'To, m' }).fill('30');
    await page.getByRole('button', { name: 'Use it as reference' }).click();
    await page.getByText('Line D from 2 to 30 m is a reference now').waitFor();
    await expect.poll(ratiosOf).toBe(before + 1);
  });
});
