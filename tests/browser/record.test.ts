import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Served } from '../../src/cli/serve';
import { makeId } from '../../src/survey/ids';
import type { Line, Reading } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading, seeded } from '../helpers/made-survey';
import { DESK, mapAtRest, PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

async function openRecord(options = DESK, from?: Served): Promise<Page> {
  const page = await stage.open(options, from);
  await page.getByRole('button', { name: 'Record', exact: true }).click();
  await page.getByRole('grid').waitFor();
  return page;
}

/** The cell of a row, by the row's place in the table as it is arranged. */
const cell = (page: Page, row: number, column: string) =>
  page.locator(`[role="row"][data-row="${row}"] [data-column="${column}"]`);

const words = async (page: Page, row: number, columns: readonly string[]) =>
  Promise.all(columns.map(async (column) => (await cell(page, row, column).textContent()) ?? ''));

/** Where the keyboard is: row and column. */
const focused = (page: Page) =>
  page.evaluate(() => {
    const at = document.activeElement?.closest<HTMLElement>('[data-column]');
    return `${at?.closest<HTMLElement>('[data-row]')?.dataset.row ?? 'head'} ${at?.dataset.column}`;
  });

/** What the map holds for a place: its step on the ramp. */
async function onMap(page: Page, sid: string): Promise<unknown> {
  await mapAtRest(page);
  return page.evaluate(async (wanted) => {
    const source = window.hollowline?.map.getSource('segments') as unknown as {
      getData(): Promise<GeoJSON.FeatureCollection>;
    };
    const { features } = await source.getData();
    return features.find(({ properties }) => String(properties?.sid).startsWith(`${wanted}:`))?.properties?.ramp;
  }, sid);
}

const selectedSid = (page: Page) => page.evaluate(() => window.hollowline?.store.get().selection?.sid ?? '');

/** Narrows the table to the pole-pole readings of line C at one spacing. */
async function showLineC(page: Page): Promise<void> {
  await page.getByRole('combobox', { name: 'Line', exact: true }).selectOption({ label: 'C' });
  await page.getByRole('combobox', { name: 'Spacing', exact: true }).selectOption({ label: '5 m' });
  await page.getByLabel('Find in the table').fill('pole');
}

describe('the table of readings', () => {
  it('follows an edit onto the map, and takes it back', async () => {
    const page = await openRecord();
    await showLineC(page);
    await cell(page, 0, 'value').click();
    const sid = await selectedSid(page);
    const [shown = ''] = await words(page, 0, ['value']);
    expect(await onMap(page, sid)).toBe('none');

    await page.keyboard.press('Enter');
    await page.keyboard.type(`${Number(shown) * 4},5`);
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Undo: Correct a reading' }).waitFor();
    await page.waitForFunction((wanted) => {
      const segments = window.hollowline?.store.get().drawn?.layers.segments;
      const stroke = segments?.features.find(({ id }) => String(id).startsWith(`${wanted}:`));
      return stroke?.properties.grade === 'strong';
    }, sid);
    expect(await onMap(page, sid)).toBe('strong_above');
    expect(await words(page, 0, ['value'])).toEqual([String(Number(shown) * 4 + 0.5)]);
    await expect.poll(() => cell(page, 0, 'grade').textContent()).toMatch(/Strongly above/);

    await page.keyboard.press('Control+z');
    await cell(page, 0, 'value').getByText(shown, { exact: true }).waitFor();
    await expect.poll(() => onMap(page, sid)).toBe('none');
    await page.keyboard.press('Control+Shift+Z');
    await expect.poll(() => onMap(page, sid)).toBe('strong_above');
  });

  it('refuses what is no number beside the cell, and Escape leaves it as it was', async () => {
    const page = await openRecord();
    await showLineC(page);
    await cell(page, 0, 'value').click();
    const before = await words(page, 0, ['value']);
    await page.keyboard.press('Enter');
    await page.keyboard.type('1,234');
    await page.keyboard.press('Enter');
    expect(await page.getByRole('alert').textContent()).toContain('may be 1234 or 1.234');
    await page.keyboard.press('Escape');
    expect(await words(page, 0, ['value'])).toEqual(before);
    expect(await focused(page)).toBe('0 value');
    expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true);
  });

  it('rejects a reading with a reason, lists it as rejected, and restores it', async () => {
    const page = await openRecord();
    await showLineC(page);
    await cell(page, 0, 'value').click();
    const sid = await selectedSid(page);
    expect(await onMap(page, sid)).toBe('none');
    await page.getByRole('button', { name: 'Reject…' }).click();
    await page.keyboard.press('Enter');
    expect(await page.getByRole('alert').textContent()).toContain('Say why');
    await page.keyboard.type('the lead was off');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Restore' }).waitFor();
    await expect.poll(() => words(page, 0, ['status', 'figure', 'ratio'])).toEqual(['rejected', '–', '–']);
    expect(await page.getByText('rejected: the lead was off').isVisible()).toBe(true);
    await expect.poll(() => onMap(page, sid)).toBe('not_graded');

    await page.getByLabel('Find in the table').fill('');
    await page.getByRole('combobox', { name: 'Status' }).selectOption('rejected');
    expect(await page.getByText(/^1 of 1527 readings$/).isVisible()).toBe(true);
    await page.getByRole('button', { name: 'Restore' }).click();
    await page.getByText('No reading is like that.').waitFor();
    await expect.poll(() => onMap(page, sid)).toBe('none');
  });

  it('settles a doubt from its cell, with a decision and why; it stays listed', async () => {
    const page = await openRecord();
    await page.getByLabel('Find in the table').fill('repeats');
    await page.getByRole('combobox', { name: 'Status' }).selectOption('doubted');
    const count = () => page.getByRole('status').filter({ hasText: 'readings' }).textContent();
    const before = Number.parseInt((await count()) ?? '', 10);
    await cell(page, 0, 'doubts').click();
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Settle…');
    await page.keyboard.press('Enter');
    await page.getByRole('radio', { name: 'Explained' }).check({ force: true });
    await page.getByLabel('Why?').fill('a stone under one rod');
    await page.keyboard.press('Enter');
    await expect.poll(async () => Number.parseInt((await count()) ?? '', 10)).toBeLessThan(before);
    await page.getByRole('button', { name: 'Read', exact: true }).click();
    expect(await page.getByText('explained – a stone under one rod').first().isVisible()).toBe(true);
    await page.keyboard.press('Control+z');
    await expect.poll(() => page.getByText('a stone under one rod').count()).toBe(0);
  });

  it('goes from the table to the map and back', async () => {
    const page = await openRecord();
    await cell(page, 3, 'value').click();
    const first = await selectedSid(page);
    expect(first).not.toBe('');
    const other = await page.evaluate(() => {
      const layers = window.hollowline?.store.get().drawn?.layers;
      return layers?.midpoints.features.at(-40)?.id ?? '';
    });
    expect(await cell(page, 1400, 'value').count()).toBe(0);
    // As a tap on the map does.
    await page.evaluate((sid) => {
      const store = window.hollowline?.store as unknown as { dispatch(action: unknown): void };
      store.dispatch({ type: 'select', selection: { kind: 'midpoint', sid } });
    }, other);
    const row = page.locator('[role="row"][aria-selected="true"]').first();
    await row.waitFor();
    const inside = await row.evaluate((element) => {
      const [own, all] = [element, element.closest('[role="grid"]')].map((one) => one?.getBoundingClientRect());
      return own && all && own.top >= all.top && own.bottom <= all.bottom + 1;
    });
    expect(inside).toBe(true);
  });

  it('can be walked, sorted, edited and left with the keyboard alone', async () => {
    const page = await openRecord();
    await page.getByRole('combobox', { name: 'Status' }).focus();
    await page.keyboard.press('Tab');
    expect(await focused(page)).toBe('0 line');
    for (const key of ['ArrowRight', 'ArrowRight', 'ArrowRight', 'ArrowDown']) await page.keyboard.press(key);
    expect(await focused(page)).toBe('1 value');
    await page.keyboard.press('Control+End');
    expect(await focused(page)).toBe('1526 time');
    await page.keyboard.press('PageUp');
    expect(await focused(page)).toMatch(/^15\d\d time$/);
    await page.keyboard.press('Control+Home');
    await page.keyboard.press('ArrowUp');
    expect(await focused(page)).toBe('head line');
    for (let i = 0; i < 3; i += 1) await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Enter');
    expect(await page.getByRole('columnheader', { name: 'showed' }).getAttribute('aria-sort')).toBe('descending');
    await expect.poll(() => words(page, 0, ['value'])).toEqual(['> 19990']);
    await page.keyboard.press('ArrowDown');
    expect(await focused(page)).toBe('0 value');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.type('7');
    expect(await page.evaluate(() => (document.activeElement as HTMLInputElement).value)).toBe('7');
    await page.keyboard.press('Escape');
    expect(await focused(page)).toBe('1 value');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.closest('[role="grid"]') ?? null)).toBeNull();
    await page.keyboard.press('Shift+Tab');
    expect(await focused(page)).toBe('1 value');
  });

  it('takes a reading that is added by hand, and says what is missing', async () => {
    const page = await openRecord();
    await page.getByRole('button', { name: 'Add a reading…' }).click();
    const form = page.getByRole('form', { name: 'Add a reading' });
    await form.getByRole('combobox', { name: 'Line' }).selectOption({ label: 'C' });
    await form.getByLabel('At, m').fill('14,25');
    await form.getByLabel('Spacing, m').fill('2');
    await form.getByLabel('Meter showed').fill('555');
    await form.getByRole('combobox', { name: 'Unit' }).selectOption({ label: 'Ω·m' });
    await form.getByRole('button', { name: 'Add' }).click();
    expect(await page.getByRole('alert').textContent()).toContain('Say how the probes were wired');
    await form.getByRole('combobox', { name: 'Hookup' }).selectOption({ label: 'pole-pole' });
    await form.getByRole('button', { name: 'Add' }).click();
    await page.getByRole('button', { name: 'Undo: Add a reading' }).waitFor();
    await form.getByRole('button', { name: 'Close' }).click();
    expect(await page.getByText('1528 readings').isVisible()).toBe(true);
    expect(await words(page, 1527, ['line', 'chainage', 'value'])).toEqual(['C', '14.25', '555']);
  });
});

describe('the record', () => {
  it('has nothing serious for axe in any theme, at a desk and on a phone', async () => {
    for (const options of [DESK, PHONE]) {
      const page = await openRecord(options);
      await page.getByRole('combobox', { name: 'Status' }).selectOption('doubted');
      await cell(page, 1, 'value').click();
      await page.getByRole('button', { name: 'Reject…' }).click();
      await page.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
      for (const theme of ['light', 'dark', 'sunlight'] as const) {
        await page.evaluate((look) => {
          const store = window.hollowline?.store as unknown as { dispatch(action: unknown): void };
          store.dispatch({ type: 'theme', theme: look });
        }, theme);
        const found = await page.evaluate(async () => {
          const { axe } = window as unknown as {
            axe: { run(on: string): Promise<{ violations: { id: string; impact: string }[] }> };
          };
          const { violations } = await axe.run('.record');
          return violations.filter(({ impact }) => impact === 'serious' || impact === 'critical').map(({ id }) => id);
        });
        expect([theme, found]).toEqual([theme, []]);
      }
      expect(stage.watched?.complaints).toEqual([]);
      if (options === DESK) await stage.watched?.close();
    }
  });
});

describe('the table of lines', () => {
  it('renames a line everywhere, and refuses a name that is taken', async () => {
    const page = await openRecord();
    await page.getByRole('radio', { name: 'Lines' }).check({ force: true });
    await page.getByLabel('Name of line C').fill('A');
    await page.keyboard.press('Enter');
    await page.getByText('There is a line “A” already.').waitFor();
    await page.getByLabel('Name of line C').fill('C east');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Undo: Correct line C east' }).waitFor();
    await page.getByRole('button', { name: 'Read', exact: true }).click();
    await page.getByText('Line C east', { exact: false }).first().waitFor();
  });
});

/** Twenty lines with 500 readings each: ten places, some read at each of ten spacings and five times. */
function manyReadings(): string {
  const random = seeded(11);
  const lines: Line[] = [];
  const readings: Reading[] = [];
  for (let l = 0; l < 20; l += 1) {
    const lat = 37.4 + l * 0.0004;
    const line = madeLine(`L${l + 1}`, [
      { chainageM: 0, lon: -91.9, lat },
      { chainageM: 200, lon: -91.9 + 200 / 88_000, lat },
    ]);
    lines.push(line);
    for (let i = 0; i < 500; i += 1) {
      const reading = madeReading(line, {
        midpoint_m: 40 + (i % 100),
        spacing_m: 1 + Math.floor(i / 100),
        value: Math.round(300 + 100 * random()),
        hookup: 'pole_pole',
      });
      readings.push({ ...reading, id: makeId('reading', 'many', `${l} ${i}`) });
    }
  }
  return JSON.stringify({ ...emptySurvey('ten thousand'), lines, readings });
}

describe('ten thousand readings', () => {
  it('scroll with a few dozen rows in the page, none of them blank, and each frame soon', async () => {
    const many = await stage.serve(manyReadings());
    try {
      const page = await openRecord(DESK, many);
      expect(await page.getByRole('grid').getAttribute('aria-rowcount')).toBe('10001');
      /** Scrolls by equal steps; how long each took to the frame behind it, and what was in the page then. */
      const scrolled = (fromPx: number, stepPx: number, steps: number) =>
        page.evaluate(
          async ([from, step, count]) => {
            const grid = document.querySelector('[role="grid"]');
            if (!grid) throw new Error('no grid');
            const frame = () => new Promise<number>((resolve) => requestAnimationFrame(resolve));
            const works: number[] = [];
            let [rowsAtMost, blank] = [0, 0];
            for (let i = 0; i <= count; i += 1) {
              await frame();
              const began = performance.now();
              grid.scrollTop = from + step * i;
              await frame();
              await frame();
              works.push(performance.now() - began);
              rowsAtMost = Math.max(rowsAtMost, document.querySelectorAll('[data-row]').length);
              const box = grid.getBoundingClientRect();
              const middle = document.elementFromPoint(box.left + 30, box.top + box.height / 2);
              if (!middle?.closest('[data-row]')) blank += 1;
            }
            works.sort((a, b) => a - b);
            const part = (share: number) => Math.round(works[Math.floor(share * (works.length - 1))] ?? 0);
            return { rowsAtMost, blank, medianMs: part(0.5), worst95Ms: part(0.95) };
          },
          [fromPx, stepPx, steps] as const,
        );
      const line = page.getByRole('combobox', { name: 'Line', exact: true });
      await line.selectOption({ label: 'L1' });
      const few = await scrolled(0, 500, 34);
      await line.selectOption({ label: 'all lines' });
      const all = await scrolled(150_000, 500, 34);
      const through = await scrolled(0, 3600, 100);
      console.log('scrolling', { few, all, through });
      for (const { rowsAtMost, blank } of [few, all, through]) {
        expect(rowsAtMost).toBeLessThan(60);
        expect(blank).toBe(0);
      }
      // The same machine draws both, so that its other work does not count: more rows must not cost more.
      expect(all.medianMs).toBeLessThan(2 * few.medianMs + 20);
      expect(await cell(page, 9999, 'line').textContent()).toBe('L20');
      const sorting = await page.evaluate(async () => {
        const began = performance.now();
        document.querySelector<HTMLElement>('[role="columnheader"][data-column="ratio"] button')?.click();
        await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
        return performance.now() - began;
      });
      console.log('10,000 rows sorted in ms', sorting);
      expect(sorting).toBeLessThan(1000);
    } finally {
      await many.close();
    }
  });
});

describe('the record on a phone', () => {
  it('has the whole sheet, targets for a thumb, nothing beyond the edge, and gives the map back', async () => {
    const page = await openRecord(PHONE);
    expect(await page.locator('#margin').evaluate((element) => element.clientHeight)).toBeGreaterThan(700);
    await cell(page, 2, 'value').tap();
    await page.getByRole('button', { name: 'Reject…' }).waitFor();
    const found = await page.evaluate(() => {
      const visible = (element: Element) => element.getClientRects().length > 0;
      const targets = [...document.querySelectorAll('.record :is(button, select, input, .chip, [role="row"])')];
      return {
        small: targets
          .filter((element) => visible(element) && !element.closest('.chip > *') && !element.closest('.grid-head'))
          .filter((element) => element.getBoundingClientRect().height < 44)
          .map((element) => element.textContent),
        width: document.documentElement.scrollWidth,
        grid: document.querySelector('[role="grid"]')?.scrollWidth ?? 0,
      };
    });
    expect(found.small).toEqual([]);
    expect(found.width).toBe(390);
    expect(found.grid).toBeLessThanOrEqual(390);
    await page.getByRole('button', { name: 'On the map' }).tap();
    expect(await page.locator('.sight').evaluate((element) => element.clientHeight)).toBeGreaterThan(600);
    await page.getByRole('button', { name: 'Read', exact: true }).tap();
    await page.getByRole('article').waitFor();
    expect(await page.evaluate(() => window.hollowline?.store.get().sheet)).toBe('half');
  });
});
