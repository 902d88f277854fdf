import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { readSurveyFile } from '../../src/exchange/read/survey-file';
import type { Reading } from '../../src/survey/survey';
import { axeSays } from './axe';
import { DESK, mapAtRest, PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

interface SetUp {
  readonly stations: readonly [from: string, to: string, step: string];
  readonly spacings: string;
  readonly order?: 'ladder' | 'traverse';
  readonly salt?: boolean;
  readonly leads?: string;
  readonly unit?: string;
}

const ONE_LADDER: SetUp = { stations: ['100', '100', '1'], spacings: '1 2 3 5 8 12' };

/** The screen of a test machine has nothing to keep awake. */
const withoutScreen = (page: Page) =>
  page.addInitScript(() => {
    Object.defineProperty(navigator, 'wakeLock', {
      configurable: true,
      value: { request: async () => Object.assign(new EventTarget(), { released: false, release: async () => {} }) },
    });
  });

async function openedRecord(options = PHONE, before?: (page: Page) => Promise<unknown>): Promise<Page> {
  const page = await stage.open(options, stage.served, {
    async before(opening) {
      await withoutScreen(opening);
      await before?.(opening);
    },
  });
  await page.getByRole('button', { name: 'Record', exact: true }).click();
  await page.getByRole('button', { name: 'Keypad' }).click();
  return page;
}

async function setUp(page: Page, { stations, spacings, order, salt, leads, unit }: SetUp): Promise<void> {
  await page.getByRole('radio', { name: 'two', exact: true }).check();
  await page.getByLabel(leads ?? 'to two more rods, left far away').check();
  await page.getByRole('radio', { name: unit ?? 'Ω·m', exact: true }).check();
  await page.getByLabel('Its upper limit, in that unit').fill('20000');
  if (salt) await page.getByLabel('allow salt water').check();
  await page.getByRole('combobox', { name: 'Line' }).selectOption({ label: 'C' });
  if (order === 'traverse') await page.getByLabel('profile: one spacing').check();
  for (const [i, name] of ['First station, m', 'Last station, m', 'A station every, m'].entries()) {
    await page.getByLabel(name).fill(stations[i] ?? '');
  }
  await page.getByLabel('Spacings, m, as they are read').fill(spacings);
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.getByRole('region', { name: 'The reading to take' }).waitFor();
}

const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();

async function type(page: Page, digits: string): Promise<void> {
  for (const digit of digits) await press(page, digit);
}

async function keep(page: Page, digits: string): Promise<void> {
  await type(page, digits);
  await press(page, 'Keep');
}

const spotShown = async (page: Page): Promise<string> => {
  const spot = page.getByRole('region', { name: 'The reading to take' });
  const spacing = await spot.getByRole('combobox').inputValue();
  return `${await spot.locator('.spot-station strong').textContent()}, ${spacing} m`;
};

/** The readings that were taken here, not those of the demo. */
const taken = (page: Page): Promise<Reading[]> =>
  page.evaluate(() => {
    const state = window.hollowline?.store.get();
    if (state?.phase.kind !== 'ready') return [];
    const { readings, outings } = state.phase.content.survey;
    const own = outings.filter(({ unit }) => unit).map(({ id }) => id);
    return readings.filter(({ outing, retired }) => !retired && outing && own.includes(outing)) as Reading[];
  });

const saved = (page: Page) =>
  page.getByRole('region', { name: 'The last reading' }).getByText('Saved', { exact: true });

describe('a ladder taken with a thumb', () => {
  it('needs its digits and one tap a reading, and the next spot comes up by itself', async () => {
    const page = await openedRecord();
    await setUp(page, ONE_LADDER);
    await page.evaluate(() => {
      const counts = window as unknown as { taps: number };
      counts.taps = 0;
      document.addEventListener('click', () => (counts.taps += 1), true);
    });
    const values = ['352', '441', '520', '545', '590', '601'];
    const spots: string[] = [];
    for (const value of values) {
      spots.push(await spotShown(page));
      const setTo = await page.getByText(/Set meter to/).textContent();
      expect(setTo).toBe(`Set meter to ${spots.at(-1)?.split(', ')[1]}`);
      await keep(page, value);
    }
    const taps = await page.evaluate(() => (window as unknown as { taps: number }).taps);
    expect(taps).toBe(values.join('').length + values.length);
    expect(spots).toEqual(['1', '2', '3', '5', '8', '12'].map((spacing) => `100 m, ${spacing} m`));
    await page.getByRole('heading', { name: 'All spots are read' }).waitFor();
    await saved(page).waitFor();
    const readings = await taken(page);
    expect(readings.map(({ value }) => value)).toEqual(values.map(Number));
    expect(
      readings.every(({ unit, hookup, wetting }) => `${unit} ${hookup} ${wetting}` === 'ohm_m pole_pole none'),
    ).toBe(true);
    // Six marks on the ladder, one for each reading, and the reference behind them.
    await expect.poll(() => page.locator('.field-ladder [data-sid]').count()).toBe(6);
  });

  it('walks along the line at one spacing as a traverse, and goes on after a reload where it was', async () => {
    const page = await openedRecord();
    await setUp(page, { stations: ['100', '104', '2'], spacings: '4 8', order: 'traverse' });
    await keep(page, '540');
    await keep(page, '548');
    expect(await spotShown(page)).toBe('104 m, 4 m');
    await saved(page).waitFor();
    await page.reload();
    await mapAtRest(page);
    await press(page, 'Record');
    await page.getByRole('region', { name: 'The reading to take' }).waitFor();
    expect(await spotShown(page)).toBe('104 m, 4 m');
    await keep(page, '551');
    expect(await spotShown(page)).toBe('100 m, 8 m');
  });

  it('repeats, wetting and a re-driven rod are one tap each', async () => {
    const page = await openedRecord();
    await setUp(page, { ...ONE_LADDER, leads: 'to the same two rods' });
    await keep(page, '9000');
    await press(page, 'Again');
    expect(await spotShown(page)).toBe('100 m, 1 m');
    await keep(page, '9100');
    await press(page, 'Again');
    await press(page, 'Rod 2 re-driven');
    await keep(page, '8000');
    await press(page, 'Wetted');
    await keep(page, '12000');
    const readings = await taken(page);
    expect(readings.map(({ spacing_m: spacing, repeat, wetting }) => [spacing, repeat ?? 0, wetting])).toEqual([
      [1, 0, 'none'],
      [1, 1, 'none'],
      [1, 2, 'none'],
      [2, 0, 'water'],
    ]);
    const seatings = readings.map((reading) => reading.seatings?.map((name) => name?.split('#')[1]).join(' '));
    expect(seatings).toEqual(['1 2', '1 2', '1 3', '4 5']);
  });

  it('shows a doubt while the probes are still in the ground, with what to try in one tap', async () => {
    const page = await openedRecord();
    await setUp(page, ONE_LADDER);
    for (const value of ['350', '700', '1050', '1750']) await keep(page, value);
    const last = page.getByRole('region', { name: 'The last reading' });
    await last.getByText(/climbs about in proportion to spacing/).waitFor();
    await last.getByText(/Wet the rods or drive them deeper/).waitFor();
    await last.getByRole('button', { name: 'Read again, wetted' }).click();
    expect(await spotShown(page)).toBe('100 m, 5 m');
    await keep(page, '560');
    expect((await taken(page)).at(-1)).toMatchObject({ spacing_m: 5, wetting: 'water', repeat: 1 });
  });

  it('undo takes the last one back', async () => {
    const page = await openedRecord();
    await setUp(page, ONE_LADDER);
    await keep(page, '352');
    await keep(page, '99');
    await press(page, 'Undo');
    expect((await taken(page)).map(({ value }) => value)).toEqual([352]);
    expect(await spotShown(page)).toBe('100 m, 2 m');
  });

  it('takes millivolts and milliamperes with one tap between them, and a sign as the meter shows it', async () => {
    const page = await openedRecord();
    await setUp(page, { ...ONE_LADDER, unit: 'mV and mA' });
    await page.getByText('mV and mA: no spacing to set').waitFor();
    await type(page, '560');
    await press(page, 'then mA');
    expect(await page.getByRole('button', { name: 'Keep', exact: true }).isDisabled()).toBe(true);
    await keep(page, '10');
    await press(page, 'Plus or minus');
    await type(page, '35.5');
    await press(page, 'then mA');
    await keep(page, '12.5');
    expect(await taken(page)).toMatchObject([
      { value: 560, unit: 'mV', current_ma: 10, spacing_m: 1 },
      { value: -35.5, unit: 'mV', current_ma: 12.5, spacing_m: 2 },
    ]);
    await page.getByRole('region', { name: 'The last reading' }).getByText('-35.5 mV at 12.5 mA').waitFor();
  });

  it('is typed on a keyboard as well', async () => {
    const page = await openedRecord(DESK);
    await setUp(page, ONE_LADDER);
    await page.keyboard.type('35,5');
    await page.keyboard.press('Backspace');
    await page.keyboard.type('8');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await taken(page)).map(({ value }) => value)).toEqual([35.8]);
  });
});

describe('a figure that looks like a slip of a thousand', () => {
  it('is asked about before it is kept, and kept in the unit that the meter shows', async () => {
    const page = await openedRecord();
    await setUp(page, ONE_LADDER);
    await keep(page, '.352');
    const question = page.getByRole('alertdialog');
    await question.getByText(/about a thousandth of the reference/).waitFor();
    expect(await taken(page)).toEqual([]);
    await question.getByRole('button', { name: 'It shows 0.352 kΩ·m' }).click();
    expect(await taken(page)).toMatchObject([{ value: 0.352, unit: 'kohm_m' }]);
  });

  it('is typed again, or kept as it stands with a note', async () => {
    const page = await openedRecord();
    await setUp(page, ONE_LADDER);
    await keep(page, '352000');
    await page.getByRole('button', { name: 'Type it again' }).click();
    expect(await taken(page)).toEqual([]);
    await press(page, 'Keep');
    await page.getByRole('button', { name: 'It does show 352000 Ω·m' }).click();
    const [reading] = await taken(page);
    expect(reading).toMatchObject({ value: 352000, unit: 'ohm_m' });
    expect(reading?.note).toContain('the meter was looked at again');
  });
});

describe('a reading over range', () => {
  it('is led step by step, each beginning with the meter off, and each attempt is kept', async () => {
    const page = await openedRecord();
    await setUp(page, { ...ONE_LADDER, salt: true });
    await press(page, 'Over range');
    const path = page.getByRole('region', { name: 'Over range' });
    const steps = ['Leads and jumpers', 'Rods deeper', 'Plain water', 'Salt water'];
    for (const [i, step] of steps.entries()) {
      await path.getByRole('heading', { name: `Over range ${i + 1}/4: ${step}` }).waitFor();
      expect(await path.locator('p').first().textContent()).toBe('Meter off, leads out.');
      expect(await path.getByText('Treat the reference in the same way').count()).toBe(i === 0 ? 0 : 1);
      if (step === 'Rods deeper') await path.getByLabel('Driven depth, m').fill('0,4');
      if (step !== 'Salt water') await press(page, 'Still over');
    }
    await keep(page, '1800');
    const readings = await taken(page);
    expect(readings.map(({ value, status, limit }) => [value, status, limit ?? null])).toEqual([
      [null, 'over_range', 20000],
      [null, 'over_range', 20000],
      [null, 'over_range', 20000],
      [null, 'over_range', 20000],
      [1800, 'ok', null],
    ]);
    expect(readings.map(({ wetting }) => wetting)).toEqual(['none', 'none', 'none', 'water', 'salt_water']);
    expect(readings.map((reading) => reading.driven_depth_m ?? null)).toEqual([null, null, 0.4, 0.4, 0.4]);
    expect(readings.map(({ seatings }) => seatings?.[0]?.split('#')[1])).toEqual(['1', '1', '3', '3', '3']);
    expect(readings.at(-1)?.note).toContain('rods wetted with salt water');
    expect(await spotShown(page)).toBe('100 m, 2 m');
  });

  it('stays censored where nothing helps, and salt water is left out where nobody allowed it', async () => {
    const page = await openedRecord();
    await setUp(page, ONE_LADDER);
    await press(page, 'Over range');
    for (let i = 0; i < 3; i += 1) await press(page, 'Still over');
    await page.getByText('Salt water was left out: nobody has said that it is allowed here.').waitFor();
    await page.getByText('“> 20000 Ω·m”: above the limit, never the limit itself', { exact: false }).waitFor();
    await press(page, 'Go on');
    expect(await spotShown(page)).toBe('100 m, 2 m');
    expect((await taken(page)).every(({ status }) => status === 'over_range')).toBe(true);
  });
});

/** Holds every write open for so long before it is let through; and makes them fail while `full` is set. */
async function slowDisk(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const disk = window as unknown as { slowMs: number; full: boolean };
    disk.slowMs = 0;
    disk.full = false;
    const add = IDBObjectStore.prototype.add;
    IDBObjectStore.prototype.add = function (this: IDBObjectStore, ...given) {
      if (disk.full) throw new DOMException('The quota has been exceeded.', 'QuotaExceededError');
      const asked = Reflect.apply(add, this, given) as IDBRequest<IDBValidKey>;
      const until = performance.now() + disk.slowMs;
      // A transaction ends when it is asked nothing more.
      const hold = (): void => {
        if (performance.now() < until) this.count().onsuccess = hold;
      };
      hold();
      return asked;
    };
  });
}

describe('an entry', () => {
  it('is said to be saved when its transaction is over, and not before', async () => {
    const page = await openedRecord(PHONE, slowDisk);
    await setUp(page, ONE_LADDER);
    await keep(page, '352');
    await saved(page).waitFor();
    await page.evaluate(() => {
      (window as unknown as { slowMs: number }).slowMs = 1500;
    });
    const begun = Date.now();
    await keep(page, '441');
    const last = page.getByRole('region', { name: 'The last reading' });
    await last.getByText('441 Ω·m', { exact: true }).first().waitFor();
    await last.getByText('Saving…').waitFor();
    expect(Date.now() - begun).toBeLessThan(1500);
    await saved(page).waitFor();
    expect(Date.now() - begun).toBeGreaterThan(1400);
  });

  it('that was not written is said so loudly, is tried again, and is there after a reload', async () => {
    const page = await openedRecord(PHONE, slowDisk);
    await setUp(page, ONE_LADDER);
    await keep(page, '352');
    await saved(page).waitFor();
    const disk = (full: boolean) =>
      page.evaluate((now) => {
        (window as unknown as { full: boolean }).full = now;
      }, full);
    await disk(true);
    await keep(page, '441');
    await page.getByText('NOT SAVED').waitFor();
    await keep(page, '520');
    await page.getByText('NOT SAVED').waitFor();
    await disk(false);
    await saved(page).waitFor({ timeout: 15_000 });
    await page.reload();
    await mapAtRest(page);
    expect((await taken(page)).map(({ value }) => value)).toEqual([352, 441, 520]);
  });

  it('is on the disk within a quarter of a second', async () => {
    const page = await openedRecord();
    await setUp(page, { stations: ['100', '104', '2'], spacings: '1 2 3 5 8' });
    await keep(page, '400');
    await saved(page).waitFor();
    await page.evaluate(() => {
      const times = window as unknown as { savedMs: number[] };
      times.savedMs = [];
      document.addEventListener(
        'click',
        ({ target, timeStamp }) => {
          if (!(target instanceof HTMLElement) || target.textContent !== 'Keep') return;
          // From the tap to what the person sees.
          const look = (): void => {
            const mark = document.querySelector<HTMLElement>('.saved-mark')?.dataset.kept;
            if (mark === 'kept') times.savedMs.push(performance.now() - timeStamp);
            else requestAnimationFrame(look);
          };
          setTimeout(look, 0);
        },
        true,
      );
    });
    for (let i = 0; i < 14; i += 1) {
      await keep(page, String(400 + i));
      await expect
        .poll(() => page.evaluate(() => (window as unknown as { savedMs: number[] }).savedMs.length))
        .toBe(i + 1);
    }
    const times = await page.evaluate(() => (window as unknown as { savedMs: number[] }).savedMs);
    times.sort((p, q) => p - q);
    console.log(`ms to saved: ${times.map(Math.round).join(' ')}`);
    expect(times[7]).toBeLessThan(250);
  });
});

describe('the device', () => {
  it('says that the screen will go dark, and that nothing was promised to last', async () => {
    const page = await openedRecord(PHONE, (each) =>
      each.addInitScript(() => {
        Object.defineProperty(navigator, 'wakeLock', {
          value: { request: () => Promise.reject(new Error('the battery is low')) },
        });
        navigator.storage.persist = async () => false;
      }),
    );
    await setUp(page, ONE_LADDER);
    await page.getByText('The screen will go dark by itself (the battery is low).').waitFor();
    expect(await page.getByText('has not promised to keep').count()).toBe(0);
    await keep(page, '352');
    await page.getByText('This browser has not promised to keep what is stored here.').waitFor();
  });

  it('asks for the screen again when the page comes back', async () => {
    const page = await openedRecord(PHONE, (each) =>
      each.addInitScript(() => {
        const counted = window as unknown as { locks: EventTarget[] };
        counted.locks = [];
        Object.defineProperty(navigator, 'wakeLock', {
          value: {
            request: async () => {
              const lock = Object.assign(new EventTarget(), { released: false, release: async () => {} });
              counted.locks.push(lock);
              return lock;
            },
          },
        });
      }),
    );
    await setUp(page, ONE_LADDER);
    await expect.poll(() => page.evaluate(() => (window as unknown as { locks: unknown[] }).locks.length)).toBe(1);
    await page.evaluate(() => {
      const [lock] = (window as unknown as { locks: (EventTarget & { released: boolean })[] }).locks;
      if (!lock) throw new Error('no lock');
      lock.released = true;
      document.dispatchEvent(new Event('visibilitychange'));
    });
    await expect.poll(() => page.evaluate(() => (window as unknown as { locks: unknown[] }).locks.length)).toBe(2);
  });
});

describe('the keypad on a phone', () => {
  it('has targets of 44 px and numbers of 16 px at least, none of them under another, in every theme', async () => {
    const page = await openedRecord();
    await setUp(page, ONE_LADDER);
    await keep(page, '352');
    await saved(page).waitFor();
    for (const theme of ['light', 'dark', 'sunlight']) {
      await page.evaluate((name) => {
        document.documentElement.dataset.theme = name;
      }, theme);
      const wrong = await page.evaluate(() => {
        const found: string[] = [];
        for (const control of document.querySelectorAll<HTMLElement>('.keypad button, .keypad select')) {
          const { width, height, x, y } = control.getBoundingClientRect();
          const name = control.textContent || control.getAttribute('aria-label');
          if (width < 44 || height < 44) found.push(`${name} is ${width} × ${height}`);
          if (Number.parseFloat(getComputedStyle(control).fontSize) < 16) found.push(`${name} is written too small`);
          const middle = control.closest('.keypad-middle');
          const top = document.elementFromPoint(x + width / 2, y + height / 2);
          if (!middle && !control.contains(top) && !(control as HTMLButtonElement).disabled)
            found.push(`${name} is covered`);
        }
        return found;
      });
      expect(wrong).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    }
  });

  it('has nothing for axe, as a form, a pad, a path and a question', async () => {
    const page = await openedRecord();
    const check = async () => expect(await axeSays(page, '.margin')).toEqual([]);
    await page.getByRole('heading', { name: 'Record in the field' }).waitFor();
    await check();
    await setUp(page, ONE_LADDER);
    await keep(page, '352');
    await saved(page).waitFor();
    await check();
    await keep(page, '441000');
    await page.getByRole('alertdialog').waitFor();
    await check();
    await page.getByRole('button', { name: 'Type it again' }).click();
    await press(page, 'Over range');
    await page.getByRole('region', { name: 'Over range' }).waitFor();
    await check();
    await keep(page, '440');
    for (const value of ['510', '545', '590', '600']) await keep(page, value);
    await page.getByRole('heading', { name: 'All spots are read' }).waitFor();
    await check();
  });
});

describe('without a connection', () => {
  it('a full line of 24 stations and 6 spacings is taken and saved to a file', async () => {
    const server = await stage.serve();
    const page = await stage.open(PHONE, server);
    await press(page, 'Record');
    await press(page, 'Keypad');
    await page.getByText('it opens without signal').waitFor();
    await server.close();
    await page.reload();
    await mapAtRest(page);
    await press(page, 'Record');
    await page.getByRole('heading', { name: 'Record in the field' }).waitFor();
    await setUp(page, { stations: ['100', '146', '2'], spacings: '1 2 3 5 8 12' });
    const values: number[] = [];
    for (let i = 0; i < 24 * 6; i += 1) {
      const value = 350 + (i % 6) * 50 + (i % 7);
      values.push(value);
      await page.keyboard.type(String(value));
      await page.keyboard.press('Enter');
    }
    await page.getByRole('heading', { name: 'All spots are read' }).waitFor();
    await saved(page).waitFor();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save a copy to a file' }).first().click();
    const path = await (await download).path();
    const { survey, notes } = readSurveyFile(new Uint8Array(await readFile(path)), 'copy.survey.json');
    expect(notes).toEqual([]);
    const outing = survey?.outings.find(({ unit }) => unit);
    const readings = survey?.readings.filter((reading) => reading.outing === outing?.id) ?? [];
    expect(readings.map(({ value }) => value)).toEqual(values);
    expect(new Set(readings.map(({ midpoint_m: midpoint, spacing_m: spacing }) => `${midpoint} ${spacing}`)).size).toBe(
      144,
    );
    await page.reload();
    await mapAtRest(page);
    expect(await taken(page)).toHaveLength(144);
  }, 180_000);
});
