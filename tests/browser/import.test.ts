import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { readColumnsMap } from '../../src/exchange/read/columns';
import { readTables } from '../../src/exchange/read/tables';
import { DESK, mapAtRest, PHONE, strokesDrawn } from './open-page';
import { setStage } from './stage';

const stage = setStage();

async function open(options = DESK): Promise<Page> {
  return stage.open(options);
}

/** Readings along a field, headed by somebody else; "station" is the number of a peg, not a place along the line. */
const FIELD = [
  'station,peg along,gap,R (Ohm),track',
  ...Array.from({ length: 24 }, (_, i) => `${1000 + i},${4 + i},2,${(40 + 10 * Math.sin(i)).toFixed(1)},W`),
].join('\n');
const PEGS = 'track,dist,lon,lat\nW,0,-91.6001,37.1\nW,40,-91.6001,37.10036\n';

const file = (name: string, text: string) => ({ name, mimeType: 'text/plain', buffer: Buffer.from(text) });

async function bringIn(page: Page, ...files: ReturnType<typeof file>[]): Promise<void> {
  await page.getByLabel('Files to bring in').setInputFiles(files);
  await page.getByRole('dialog').waitFor();
  await settled(page);
}

/** Waits until the last correction has been understood. */
async function settled(page: Page): Promise<void> {
  await page.locator('.import-page[aria-busy="false"]').waitFor();
}

const siteName = (page: Page) =>
  page.evaluate(() => {
    const { phase } = window.hollowline?.store.get() ?? {};
    return phase?.kind === 'ready' ? phase.content.survey.site.name : null;
  });
const take = (page: Page) => page.getByRole('dialog').getByRole('button', { name: /^Bring / });

/** Corrects what the field's table was taken for. */
async function correct(page: Page): Promise<void> {
  const choose = async (column: string, field: string) => {
    await page.getByLabel(`Meaning of ${column}`).selectOption(field);
    await settled(page);
  };
  expect(await page.getByLabel('Meaning of station').inputValue()).toBe('midpoint_m');
  await choose('peg along', 'midpoint_m');
  expect(await page.getByLabel('Meaning of station').inputValue()).toBe('');
  await choose('gap', 'spacing_m');
}

describe('bringing files in', () => {
  it('takes tables of a person’s own once a wrongly guessed column is corrected, and segments appear', async () => {
    const page = await open();
    await bringIn(page, file('field.txt', FIELD), file('positions.csv', PEGS));
    expect(await take(page).isDisabled()).toBe(true);
    await correct(page);
    await page.getByRole('radio', { name: 'two', exact: true }).check({ force: true });
    await page.getByRole('radio', { name: 'to two more rods, left far away' }).check();
    await settled(page);
    expect(await page.locator('#take-words').textContent()).toBe('1 line, 24 readings.');

    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save how they are read' }).click();
    const saved = await (await download).createReadStream();
    const bytes = Buffer.concat(await saved.toArray());

    await page.getByRole('dialog').getByLabel('Name of the site').fill('West field');
    await take(page).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await mapAtRest(page);
    await page.waitForTimeout(300);
    expect(await siteName(page)).toBe('West field');
    expect(await strokesDrawn(page)).toBeGreaterThanOrEqual(24);

    // The same survey on the command line, with the map that the preview saved.
    const { columns } = readColumnsMap(bytes, 'columns.json');
    const files = [
      { name: 'field.txt', bytes: Buffer.from(FIELD) },
      { name: 'positions.csv', bytes: Buffer.from(PEGS) },
    ];
    const { survey } = readTables(files, { columns: columns ?? { files: {} }, seed: 'tables' });
    const shown = await page.evaluate(() => {
      const { phase } = window.hollowline?.store.get() ?? {};
      return phase?.kind === 'ready' ? phase.content.survey : null;
    });
    expect(survey?.readings).toHaveLength(24);
    expect([shown?.lines, shown?.readings]).toEqual([survey?.lines, survey?.readings]);
    expect(shown?.readings[0]).toMatchObject({ midpoint_m: 4, spacing_m: 2, unit: 'ohm', hookup: 'pole_pole' });
  });

  it('reads the next file of the same headers as the last one, into the open survey', async () => {
    const page = await open();
    await bringIn(page, file('field.txt', FIELD), file('positions.csv', PEGS));
    await correct(page);
    await take(page).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });

    await bringIn(
      page,
      file(
        'field 2.txt',
        FIELD.replaceAll(/^(1\d{3}),(\d+),/gm, (_, peg, along) => `${peg},${Number(along) + 0.5},`),
      ),
    );
    expect(await page.getByLabel('Meaning of peg along').inputValue()).toBe('midpoint_m');
    await page.getByRole('radio', { name: 'into the open survey' }).check({ force: true });
    await settled(page);
    expect(await page.locator('#take-words').textContent()).toBe('0 lines, 24 readings.');
    await take(page).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    const readings = await page.evaluate(() => {
      const { phase } = window.hollowline?.store.get() ?? {};
      return phase?.kind === 'ready' ? phase.content.survey.readings.length : 0;
    });
    expect(readings).toBe(48);
    expect(await page.getByText(/notes? from reading the file/).isVisible()).toBe(true);
  });

  it('shows the faults of a bad file, and changes nothing', async () => {
    const page = await open();
    const before = await siteName(page);
    await bringIn(page, file('readings.csv', 'line,midpoint_m,spacing_m,value,unit,hookup\nA,1,2,wet,ohm,pole_pole\n'));
    const faults = page.locator('.faults');
    expect(await faults.textContent()).toContain('value says "wet"; it has to be a number.');
    expect(await take(page).isDisabled()).toBe(true);
    expect(await page.locator('#take-words').textContent()).toMatch(/faults? in the way/);
    await page.keyboard.press('Escape');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    expect(await siteName(page)).toBe(before);
  });

  it('says of noise and of a document that is no survey what they are', async () => {
    const page = await open();
    await bringIn(page, file('noise.csv', '\u0000\u0001\u0002'));
    expect(await page.getByRole('dialog').textContent()).toContain('bytes that no text has');
    expect(await take(page).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Close', exact: true }).click();
    await bringIn(page, file('x.survey.json', '{}'));
    expect(await page.getByRole('dialog').getByRole('alert').textContent()).toContain('This is not a survey');
    expect(await siteName(page)).toBe('Brackamore Slade');
  });

  it('opens a survey document that was handed over, and tables too', async () => {
    const page = await open();
    await page.getByRole('button', { name: 'Hand over' }).click();
    const saved = async (name: string) => {
      const download = page.waitForEvent('download');
      await page.getByRole('button', { name }).click();
      const stream = await (await download).createReadStream();
      return Buffer.concat(await stream.toArray()).toString('utf8');
    };
    const document = await saved('brackamore-slade.survey.json');
    await page.getByText('Tables (CSV)').click();
    await page.getByRole('button', { name: 'readings.csv' }).waitFor();
    const tables = [];
    for (const name of ['positions.csv', 'readings.csv', 'remotes.csv']) tables.push(file(name, await saved(name)));

    // The next files are let go while the device still writes the survey before them.
    await page.evaluate(() => {
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...given: Parameters<IDBObjectStore['put']>) {
        const until = performance.now() + 4000;
        const hold = () => {
          if (performance.now() < until) this.count().onsuccess = hold;
        };
        hold();
        return put.apply(this, given);
      };
    });
    const renamed = document.replace('"Brackamore Slade"', '"Come back"');
    await page.getByLabel('Files to bring in').setInputFiles([file('again.survey.json', renamed)]);
    await page.getByRole('heading', { name: 'Come back' }).waitFor();
    await bringIn(page, ...tables);
    expect(await page.locator('#take-words').textContent()).toBe('9 lines, 1527 readings.');
    await page.waitForFunction(() => window.hollowline?.store.get().kept === 'kept');
    expect(await page.locator('#take-words').textContent()).toBe('9 lines, 1527 readings.');
  });

  it('looks at files that are dropped on the page, and can be used by everyone', async () => {
    const page = await open();
    const dropped = await page.evaluateHandle((text) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([text], 'field.txt'));
      return transfer;
    }, FIELD);
    await page.dispatchEvent('.book', 'dragover', { dataTransfer: dropped });
    expect(await page.getByText('Let go to see').isVisible()).toBe(true);
    await page.dispatchEvent('.book', 'drop', { dataTransfer: dropped });
    await page.getByRole('heading', { name: 'field.txt' }).waitFor();
    await settled(page);
    expect(await page.getByText('Let go to see').count()).toBe(0);
    await page.evaluate(await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
    const violations = await page.evaluate(async () => {
      const { axe } = window as unknown as {
        axe: { run(): Promise<{ violations: { id: string; impact: string; nodes: { html: string }[] }[] }> };
      };
      const found = (await axe.run()).violations;
      return found
        .filter(({ impact }) => impact === 'serious' || impact === 'critical')
        .map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
    });
    expect(violations).toEqual([]);
  });

  it('fits a phone: targets for a thumb, nothing beyond the edge', async () => {
    const page = await open(PHONE);
    await bringIn(page, file('field.txt', FIELD));
    const found = await page.evaluate(() => {
      const visible = (element: Element) => element.getClientRects().length > 0;
      const targets = [
        ...document.querySelectorAll('.import button, .import select, .import summary, .chip, .bar button'),
      ];
      return {
        small: targets.filter(visible).flatMap((element) => {
          const { width, height } = element.getBoundingClientRect();
          return width < 43.9 || height < 43.9 ? [element.textContent] : [];
        }),
        width: document.documentElement.scrollWidth,
        sheet: document.querySelector('.import-page')?.scrollWidth,
      };
    });
    expect(found).toEqual({ small: [], width: 390, sheet: 390 });
  });
});
