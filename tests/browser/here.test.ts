import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { radius95M } from '../../src/position/accuracy';
import { localPlane } from '../../src/position/crs';
import { azimuthDeg, geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import type { Fix, Outing } from '../../src/survey/survey';
import { seeded } from '../helpers/made-survey';
import { PHONE } from './open-page';
import { setStage } from './stage';

const stage = setStage();

type Place = { lon: number; lat: number };

const SIGMA_M = 2;
const R95_M = radius95M(SIGMA_M);
const FIXES = 10;
const OUTSIDE: BrowserContextOptions = { ...PHONE, permissions: ['geolocation'] };

/** Counts what is asked of the device. */
async function opened(options: BrowserContextOptions): Promise<Page> {
  // Averaged until it is told that it is enough: the test gives the fixes.
  const page = await stage.open(options, stage.served, { asked: 'averaging=60' });
  await page.evaluate(() => {
    const spy = window as unknown as { asked: number };
    spy.asked = 0;
    const watch = navigator.geolocation.watchPosition.bind(navigator.geolocation);
    navigator.geolocation.watchPosition = (...given) => {
      spy.asked += 1;
      return watch(...given);
    };
  });
  return page;
}

const stand = (page: Page, { lon, lat }: Place, accuracy = R95_M) =>
  page.context().setGeolocation({ longitude: lon, latitude: lat, accuracy });

const pressed = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();

/** Places round a truth as a receiver scatters them: normal, two metres per axis; always the same ones for a seed. */
function noisy(truth: Place, count: number, seed: number): readonly Place[] {
  const random = seeded(seed);
  const plane = localPlane(truth.lon, truth.lat);
  return Array.from({ length: count }, () => {
    const size = SIGMA_M * Math.sqrt(-2 * Math.log(1 - random()));
    const turn = 2 * Math.PI * random();
    return plane.toLonLat(size * Math.cos(turn), size * Math.sin(turn));
  });
}

/** Gives fixes one by one, each when the one before was counted. */
async function average(page: Page, fixes: readonly Place[]): Promise<void> {
  await page.getByText('Waiting for a fix made here').waitFor();
  for (const [i, fix] of fixes.entries()) {
    await stand(page, fix);
    await page.getByText(i === 0 ? '1 fix, good to' : `${i + 1} fixes, good to`).waitFor();
  }
  await pressed(page, 'Enough, take it');
}

const lineC = (page: Page) =>
  page.evaluate(() => {
    const phase = window.hollowline?.store.get().phase;
    if (phase?.kind !== 'ready') throw new Error('no survey');
    const { survey, findings } = phase.content;
    const line = survey.lines.find(({ name }) => name === 'C');
    const found = findings.lines.find(({ lineId }) => lineId === line?.id);
    return {
      fixes: (line?.path ?? []).filter(({ kind }) => kind === 'fix') as Fix[],
      electrodes: (found?.electrodes ?? []).map(({ chainageM, lon, lat }) => ({ chainageM, lon, lat })),
      outings: survey.outings.filter(({ unit }) => unit) as Outing[],
    };
  });

const drawnParts = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const map = window.hollowline?.map as unknown as {
      querySourceFeatures(source: string): { properties: { part: string } }[];
    };
    return [...new Set(map.querySourceFeatures('here').map(({ properties }) => properties.part))].sort();
  });

describe('where one stands', () => {
  it('is asked for, drawn and said, leads to a stake, and gives controls and remotes from scattered fixes', async () => {
    const page = await opened(OUTSIDE);
    const asked = () => page.evaluate(() => (window as unknown as { asked: number }).asked);
    const { electrodes } = await lineC(page);
    const truth = electrodes.find(({ chainageM }) => chainageM === 20) as Place;
    const start = geodesicDestination(truth, 250, 45);
    await stand(page, start);

    // Set up, with one far rod by scattered fixes and the other typed.
    await pressed(page, 'Record');
    await pressed(page, 'Keypad');
    await page.getByRole('radio', { name: 'two', exact: true }).check();
    await page.getByLabel('to two more rods, left far away').check();
    await page.getByRole('radio', { name: 'Ω·m', exact: true }).check();
    await page.getByRole('combobox', { name: 'Line' }).selectOption({ label: 'C' });
    for (const [name, value] of [
      ['First station, m', '20'],
      ['Last station, m', '20'],
      ['A station every, m', '1'],
      ['Spacings, m, as they are read', '2 4'],
    ] as const) {
      await page.getByLabel(name).fill(value);
    }
    expect(await asked()).toBe(0);
    const far = geodesicDestination(truth, 180, 300);
    const farther = geodesicDestination(truth, 0, 300);
    await pressed(page, 'Remote current electrode (B) is here, by GPS');
    await average(page, noisy(far, FIXES, 11));
    await page.getByText(/^Good to [\d.]+ m \(95 %\)\.$/).waitFor();
    const second = page.getByLabel('Remote potential electrode (N): coordinates');
    await second.fill('nowhere at all');
    await pressed(page, 'Begin');
    await page.getByRole('alert').getByText('Remote potential electrode (N):').waitFor();
    await second.fill(`${farther.lat.toFixed(7)}, ${farther.lon.toFixed(7)}`);
    await page.getByText(/^Understood as/).waitFor();
    await pressed(page, 'Begin');
    await page.getByRole('region', { name: 'The reading to take' }).waitFor();
    const remotes = (await lineC(page)).outings[0]?.remotes ?? [];
    expect(remotes.map(({ role }) => role)).toEqual(['B', 'N']);
    const placeOf = (role: string): Place => {
      const position = remotes.find((remote) => remote.role === role)?.position;
      return { lon: position?.x ?? 0, lat: position?.y ?? 0 };
    };
    expect(geodesicDistanceM(placeOf('B'), far)).toBeLessThan(remotes[0]?.position.accuracy_m ?? 0);
    expect(geodesicDistanceM(placeOf('N'), farther)).toBeLessThan(0.02);

    // The way to the station: its distance and bearing as the ellipsoid has them.
    await pressed(page, 'Go to');
    await pressed(page, 'station 20 m');
    const panel = page.getByRole('region', { name: 'Places' });
    await stand(page, start);
    await panel.getByText(`${Math.round(geodesicDistanceM(start, truth))} m`, { exact: true }).waitFor();
    const bearing = String(Math.round(azimuthDeg(start, truth))).padStart(3, '0');
    expect(await panel.locator('.here-way').textContent()).toContain(`bearing ${bearing}° true (E)`);
    expect(await panel.getByText('You are here to ± 5.0 m (95 % sure).').count()).toBe(1);
    expect(await panel.getByText('As near as the GPS can tell').count()).toBe(0);
    await stand(page, geodesicDestination(truth, 250, R95_M - 0.5));
    await panel.getByText('As near as the GPS can tell (± 5.0 m)').waitFor();

    // A fix for the line there: the average lies nearer to the truth than it claims, its singles stay under it.
    const before = (await lineC(page)).fixes.length;
    await pressed(page, 'Take a fix here');
    const singles = noisy(truth, FIXES, 7);
    await average(page, singles);
    await page.getByText(/^Taken at 20 m: 10 fixes, good to/).waitFor();
    const { fixes } = await lineC(page);
    expect(fixes).toHaveLength(before + 1);
    const fix = fixes.at(-1) as Fix;
    expect(fix).toMatchObject({ chainage_m: 20, position: { source: 'phone', accuracy_level: 95 } });
    const accuracyM = fix.position.accuracy_m ?? 0;
    expect(geodesicDistanceM({ lon: fix.position.x, lat: fix.position.y }, truth)).toBeLessThan(accuracyM);
    // Half of the variance is taken to be shared by all of them, which no averaging removes.
    expect(accuracyM).toBeLessThan(R95_M);
    expect(accuracyM).toBeGreaterThan(R95_M * Math.SQRT1_2);
    expect(fix.singles?.map(({ x, y }) => [x.toFixed(7), y.toFixed(7)])).toEqual(
      singles.map(({ lon, lat }) => [lon.toFixed(7), lat.toFixed(7)]),
    );

    // On the map, once the sheet lets it be seen.
    await pressed(page, 'Read');
    await page.getByRole('button', { name: 'Where I am', pressed: true }).waitFor();
    await expect.poll(() => drawnParts(page)).toEqual(['circle', 'own', 'target', 'way']);
    const note = page.locator('.here-note');
    await note.getByText('To Line C at 20 m').waitFor();
    // No fix comes any more; after ten seconds of that it is old.
    await note.getByText(/No new position for \d+ s: this is where you were/).waitFor();
    await pressed(page, 'End the way');
    await expect.poll(() => drawnParts(page)).toEqual(['circle', 'own']);
    await pressed(page, 'Where I am');
    await expect.poll(() => drawnParts(page)).toEqual([]);
    expect(await note.count()).toBe(0);
  });

  it('says what to do when the page may not ask, and leads to a zone once it may', async () => {
    const page = await opened({ ...PHONE, permissions: [] });
    await pressed(page, 'Where I am');
    await page.getByRole('alert').getByText('Allow it in the browser').waitFor();
    await page.context().grantPermissions(['geolocation']);
    const { electrodes } = await lineC(page);
    await stand(page, electrodes[0] as Place);
    await pressed(page, 'Ask again');
    await page.getByText('You are here to ± 5.0 m (95 % sure).').waitFor();
    await page.getByRole('button', { name: /^Zone 1/ }).click();
    await pressed(page, 'Go to this zone');
    await page
      .locator('.here-note')
      .getByText(/^To Zone 1$/)
      .waitFor();
    await page
      .getByRole('button', { name: /^Go to Next reading/ })
      .first()
      .click();
    await page
      .locator('.here-note')
      .getByText(/^To Next reading \d+, line \w at [\d.]+ m$/)
      .waitFor();
  });
});
