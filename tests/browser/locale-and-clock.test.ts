import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Fix, Outing, Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine } from '../helpers/made-survey';
import { DESK, mapAtRest, PHONE } from './open-page';
import { setStage } from './stage';

/** 12:30 of the day after in Apia, which is 13 hours east of UTC (IANA time zone database). */
const NOW = new Date('2026-05-11T23:30:00Z');
const YEAR_MS = 365 * 24 * 3_600_000;

const line = madeLine('A', [
  { chainageM: 0, lon: 10, lat: 47 },
  { chainageM: 40, lon: 10.0005, lat: 47 },
]);
const stage = setStage(JSON.stringify({ ...emptySurvey('clocks'), lines: [line] }));

const opened = (options: BrowserContextOptions, asked = ''): Promise<Page> =>
  stage.open(options, stage.served, { asked, before: (page) => page.clock.install({ time: NOW }) });
const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
const surveyIn = (page: Page): Promise<Survey> =>
  page.evaluate(() => {
    const phase = window.hollowline?.store.get().phase;
    if (phase?.kind !== 'ready') throw new Error('no survey is open');
    return phase.content.survey as unknown as Survey;
  });
const said = (readings: readonly Reading[]) => readings.map(({ value, time }) => [value, time]);

describe('a phone in Apia that speaks Arabic', () => {
  it('keeps readings in their order with the day and the hour of the wall, though its clock jumps a year back', async () => {
    const page = await opened({ ...PHONE, locale: 'ar-EG', timezoneId: 'Pacific/Apia' });
    await press(page, 'Record');
    await press(page, 'Keypad');
    expect(await page.getByLabel('Name of the outing').inputValue()).toBe('2026-05-12');
    await page.getByRole('radio', { name: 'two', exact: true }).check();
    await page.getByLabel('to two more rods, left far away').check();
    await page.getByRole('radio', { name: 'Ω·m', exact: true }).check();
    await page.getByLabel('Its upper limit, in that unit').fill('٢٠٠٠٠');
    await page.getByLabel('Radius of the rods, m').fill('0,008');
    await page.getByRole('combobox', { name: 'Line' }).selectOption({ label: 'A' });
    for (const [name, text] of [
      ['First station, m', '١٠'],
      ['Last station, m', '10'],
      ['A station every, m', '1'],
      ['Spacings, m, as they are read', '1,250 3'],
    ] as const) {
      await page.getByLabel(name).fill(text);
    }
    await press(page, 'Begin');
    await page.getByRole('alert').getByText('may be 1250 or 1.250').waitFor();
    await page.getByLabel('Spacings, m, as they are read').fill('١٫٥ 3 5');
    await press(page, 'Begin');
    await page.getByRole('region', { name: 'The reading to take' }).waitFor();

    // The keys of an Arabic keyboard: the test's own has none of them.
    for (const key of '٣٥٫٢') await page.dispatchEvent('body', 'keydown', { key, bubbles: true });
    await press(page, 'Keep');
    await page.clock.setSystemTime(NOW.getTime() - YEAR_MS);
    for (const digits of ['41', '47']) {
      await page.keyboard.type(digits);
      await press(page, 'Keep');
    }
    const last = page.getByRole('region', { name: 'The last reading' });
    await last.getByText('Saved', { exact: true }).waitFor();
    const { outings, readings } = await surveyIn(page);
    expect(outings).toMatchObject([
      { name: '2026-05-12', date: '2026-05-12', meter: { upper_limit: 20_000 }, rods: [{ radius_m: 0.008 }] },
    ] satisfies readonly Partial<Outing>[]);
    expect(readings.map(({ spacing_m: spacing, value }) => [spacing, value])).toEqual([
      [1.5, 35.2],
      [3, 41],
      [5, 47],
    ]);
    expect(readings[0]?.time).toMatch(/^2026-05-12T12:3\d:\d\d\.\d{3}\+13:00$/);
    expect(readings[1]?.time).toMatch(/^2025-05-12T12:3\d:\d\d\.\d{3}\+13:00$/);

    // Without the address of a survey the page goes on with what the device has kept.
    await page.goto(new URL('/?inspect', stage.served.url).href);
    await mapAtRest(page);
    const again = await surveyIn(page);
    expect(said(again.readings)).toEqual(said(readings));
    await page.evaluate(() => document.activeElement instanceof HTMLElement && document.activeElement.blur());
    await page.keyboard.press('Control+z');
    await expect.poll(async () => said((await surveyIn(page)).readings)).toEqual(said(readings.slice(0, 2)));
  });

  it('averages for as long as it was told to, though its clock jumps meanwhile', async () => {
    const geolocation = { longitude: 11, latitude: 48, accuracy: 5 };
    const options = {
      ...PHONE,
      locale: 'ar-EG',
      timezoneId: 'Pacific/Apia',
      permissions: ['geolocation'],
      geolocation,
    };
    const page = await opened(options, 'averaging=2');
    await press(page, 'Lay out');
    await page.getByRole('button', { name: /^Line A/ }).click();
    await press(page, 'Add a point');
    await page.getByLabel('At, m').fill('٢٠٫٥');
    await press(page, 'Place it here');
    for (const [i, jumpMs] of [0, -YEAR_MS, YEAR_MS].entries()) {
      await page.clock.setSystemTime(NOW.getTime() + jumpMs);
      await page.context().setGeolocation({ longitude: 10 + 0.00001 * i, latitude: 47, accuracy: 4 });
      await page.waitForTimeout(300);
    }
    await page.getByRole('button', { name: '20.5 m: correct' }).waitFor({ timeout: 10_000 });
    const fix = (await surveyIn(page)).lines[0]?.path.find(
      (item): item is Fix => item.kind === 'fix' && item.chainage_m === 20.5,
    );
    expect(fix?.position.x).toBeCloseTo(10.00001, 5);
    expect(fix?.position.time).toMatch(/\+13:00$/);
  });
});

describe('a desk that speaks French', () => {
  it('takes a decimal comma, and asks where it may part thousands', async () => {
    const page = await opened({ ...DESK, locale: 'fr-CH', timezoneId: 'America/St_Johns' });
    await press(page, 'Karst');
    await page.getByText('Setbacks', { exact: true }).click();
    const distance = page.getByRole('textbox', { name: 'Distance, m' });
    await distance.fill('1,000');
    await press(page, 'Set this rule');
    await page.getByRole('alert').getByText('“1,000” may be 1000 or 1.000.').waitFor();
    await distance.fill('12,5');
    await press(page, 'Set this rule');
    await expect.poll(async () => (await surveyIn(page)).site.setback_rules).toMatchObject([{ distance_m: 12.5 }]);
  });
});
