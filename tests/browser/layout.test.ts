import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { geodesicDestination, geodesicDistanceM } from '../../src/position/geodesic';
import type { Fix, Line } from '../../src/survey/survey';
import { emptySurvey, madeLine } from '../helpers/made-survey';
import { expectNothingForAxe } from './axe';
import { DESK, mapAtRest, PHONE } from './open-page';
import { setStage } from './stage';

/** A line with a bend: 30 m to the north-east, then 30 m to the east. */
const start = { lon: 10, lat: 47 };
const bend = geodesicDestination(start, 50, 30);
const end = geodesicDestination(bend, 90, 30);

/** A survey with one placed line, some way off. */
const placed = madeLine('A', [
  { chainageM: 0, ...geodesicDestination(start, 180, 40), accuracyM: 3 },
  { chainageM: 40, ...geodesicDestination(geodesicDestination(start, 180, 40), 90, 40), accuracyM: 3 },
]);
const survey = { ...emptySurvey('field'), lines: [{ ...placed, layout: { from_m: 0, to_m: 40, step_m: 2 } }] };

const stage = setStage(JSON.stringify(survey));

const OLD_FIX = { longitude: 11, latitude: 48, accuracy: 5 };
const IN_THE_FIELD: BrowserContextOptions = { ...PHONE, permissions: ['geolocation'], geolocation: OLD_FIX };

async function openLayout(options: BrowserContextOptions = DESK, asked = ''): Promise<Page> {
  const page = await stage.open(options, stage.served, { asked });
  await page.getByRole('button', { name: 'Lay out', exact: true }).click();
  await page.getByRole('button', { name: 'New line', exact: true }).waitFor();
  return page;
}

const pressed = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
const way = (page: Page, name: string) => page.getByRole('radio', { name, exact: true }).check();

/** The line as the record has it now. */
const lineNow = (page: Page, name: string): Promise<Line | undefined> =>
  page.evaluate((wanted) => {
    const phase = window.hollowline?.store.get().phase;
    return phase?.kind === 'ready' ? phase.content.survey.lines.find((line) => line.name === wanted) : undefined;
  }, name);

const fixesOf = (line: Line | undefined): Fix[] =>
  (line?.path ?? []).filter((item): item is Fix => item.kind === 'fix');

/** Where a place is on the page, in pixels. */
const onPage = (page: Page, { lon, lat }: { lon: number; lat: number }): Promise<{ x: number; y: number }> =>
  page.evaluate(
    ([x, y]) => {
      const map = window.hollowline?.map;
      const box = map?.getContainer().getBoundingClientRect();
      const at = map?.project([x as number, y as number]);
      return { x: (box?.left ?? 0) + (at?.x ?? 0), y: (box?.top ?? 0) + (at?.y ?? 0) };
    },
    [lon, lat],
  );

/** What drawing left on the map: layers and sources that are not of the map's own style. */
const leftByDrawing = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const map = window.hollowline?.map as unknown as {
      getStyle(): { layers: { id: string }[]; sources: Record<string, unknown> };
    };
    const { layers, sources } = map.getStyle();
    return [...layers.map(({ id }) => id), ...Object.keys(sources)].filter((id) => id.startsWith('td-'));
  });

/** Controls of the margin that are too small for a thumb, and words too small for a wet screen. */
const tooSmall = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const margin = document.querySelector('.lay-out');
    const seen = (element: Element) => element.getBoundingClientRect().width > 0;
    const targets = [
      ...(margin?.querySelectorAll('button, select, input[type="text"], input[type="date"], .chip, .tick') ?? []),
    ];
    const words = [...(margin?.querySelectorAll('p, td, th, label, legend, span, input, select, button') ?? [])];
    return [
      ...targets.filter(seen).filter((element) => {
        const { width, height } = element.getBoundingClientRect();
        return width < 44 || height < 44;
      }),
      ...words.filter(seen).filter((element) => Number.parseFloat(getComputedStyle(element).fontSize) < 16),
      ...targets.filter((element) => element.getBoundingClientRect().right > innerWidth + 1),
    ].map((element) => element.outerHTML.slice(0, 120));
  });

/** Places the point at hand here: the device moves there after the tap, as it does for somebody who has just come. */
async function placeHere(page: Page, place: { lon: number; lat: number }): Promise<void> {
  await pressed(page, 'Place it here');
  await page.getByText('Waiting for a fix made here').waitFor();
  await page.context().setGeolocation({ longitude: place.lon, latitude: place.lat, accuracy: 4 });
  await page.getByText('1 fix, good to 4.0 m').waitFor();
}

describe('a newcomer with a phone', () => {
  it('lays out a bent line of 60 m and reads where its electrodes stand, in under two minutes', async () => {
    const page = await openLayout(IN_THE_FIELD);
    const began = Date.now();
    expect(await page.getByText('The tape gives a line its shape.').isVisible()).toBe(true);

    await pressed(page, 'New line');
    await page.keyboard.type('North');
    await page.getByLabel('To, m').fill('60');
    await page.getByLabel('Electrode every, m').fill('2');
    await pressed(page, 'Begin the line');
    await page.getByText('Line North has no placed point.').waitFor();

    // One end: the fix from before the tap, a degree away, is not taken.
    await placeHere(page, start);
    await pressed(page, 'Enough, take it');
    await page.getByRole('button', { name: '0 m: correct' }).waitFor();
    // The other end follows by itself, its chainage filled in.
    expect(await page.getByLabel('At, m').inputValue()).toBe('60');
    await placeHere(page, end);
    await pressed(page, 'Enough, take it');
    await page.getByRole('button', { name: '60 m: correct' }).waitFor();

    await pressed(page, 'Add a point');
    await way(page, 'by two tapes');
    await page.getByLabel('At, m').fill('30');
    await page.getByLabel('reads, m').nth(0).fill('30');
    await page.getByLabel('reads, m').nth(1).fill('30');
    await way(page, 'left');
    await pressed(page, 'Add the point');

    const table = page.getByRole('table', { name: 'Electrodes of this line' });
    await expect
      .poll(async () => rowPlace(await table.getByRole('row', { name: /^30 m/ }).textContent(), bend))
      .toBeLessThan(0.5);
    expect(rowPlace(await table.getByRole('row', { name: /^0 m/ }).textContent(), start)).toBeLessThan(0.5);
    expect(rowPlace(await table.getByRole('row', { name: /^60 m/ }).textContent(), end)).toBeLessThan(0.5);
    expect(Date.now() - began).toBeLessThan(120_000);

    const line = await lineNow(page, 'North');
    expect(line?.hookup).toBeUndefined();
    expect(
      fixesOf(line).map(({ position }) => [position.source, position.accuracy_m, position.accuracy_level]),
    ).toEqual([
      ['phone', 4, 95],
      ['phone', 4, 95],
    ]);
  });

  /** Metres from what a row of the table says to where the place is. */
  function rowPlace(row: string | null, place: { lon: number; lat: number }): number {
    const [, lat, lon] = /m(\d+\.\d+), (\d+\.\d+)/.exec(row ?? '') ?? [];
    return geodesicDistanceM(place, { lon: Number(lon), lat: Number(lat) });
  }

  it('gets the average of what came when the time is over, the single fixes under it', async () => {
    const page = await openLayout(IN_THE_FIELD, 'averaging=2');
    await page.getByRole('button', { name: /^Line A/ }).click();
    await pressed(page, 'Add a point');
    await page.getByLabel('At, m').fill('20');
    await pressed(page, 'Place it here');
    for (const lon of [10, 10.00001, 10.00002]) {
      await page.context().setGeolocation({ longitude: lon, latitude: 47, accuracy: 4 });
      await page.waitForTimeout(300);
    }
    await page.getByRole('button', { name: '20 m: correct' }).waitFor();
    const point = fixesOf(await lineNow(page, 'A')).find(({ chainage_m: chainage }) => chainage === 20);
    expect(point?.position.x).toBeCloseTo(10.00001, 6);
    expect(point?.singles).toHaveLength(3);
    expect(point?.position.accuracy_m).toBeLessThan(4);
    expect(await page.getByText('GPS, 3 fixes').isVisible()).toBe(true);
  });

  it('is told what to do when the page may not ask, or no position comes', async () => {
    const page = await openLayout({ ...PHONE, permissions: [] });
    await page.getByRole('button', { name: /^Line A/ }).click();
    await pressed(page, 'Add a point');
    await page.getByLabel('At, m').fill('20');
    await pressed(page, 'Place it here');
    await page.getByRole('alert').getByText('Allow it in the browser').waitFor();
    expect(await page.getByLabel('At, m').inputValue()).toBe('20');
  });

  it('finds every control with a thumb and every word with wet eyes', async () => {
    const page = await openLayout(IN_THE_FIELD);
    expect(await tooSmall(page)).toEqual([]);
    await pressed(page, 'New line');
    expect(await tooSmall(page)).toEqual([]);
    await pressed(page, 'Cancel');
    await page.getByRole('button', { name: /^Line A/ }).click();
    await page.getByLabel('One every, m').fill('10');
    await pressed(page, 'Add a point');
    for (const name of ['on the map', 'by coordinates', 'by bearing and tape', 'by two tapes']) {
      await way(page, name);
      expect([name, await tooSmall(page)]).toEqual([name, []]);
    }
    const bar = await page.locator('.bar').evaluate((element) => element.scrollWidth - element.clientWidth);
    expect(bar).toBe(0);
  });
});

describe('a point of a line', () => {
  it('is dragged on the map: one edit, which is taken back at once', async () => {
    const page = await openLayout();
    await page.getByRole('button', { name: /^Line A/ }).click();
    await pressed(page, 'Move points on the map');
    await mapAtRest(page);
    const before = fixesOf(await lineNow(page, 'A'))[1] as Fix;
    const from = await onPage(page, { lon: before.position.x, lat: before.position.y });
    await page.mouse.move(from.x + 6, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + 30, from.y - 30, { steps: 4 });
    await page.mouse.move(from.x + 46, from.y - 50, { steps: 4 });
    await page.mouse.up();
    await page.getByRole('button', { name: 'Undo: Move a point' }).waitFor();
    const after = fixesOf(await lineNow(page, 'A'))[1] as Fix;
    expect(after).toMatchObject({ id: before.id, chainage_m: 40, position: { source: 'map', accuracy_level: 95 } });
    const now = await onPage(page, { lon: after.position.x, lat: after.position.y });
    expect(Math.hypot(now.x - from.x - 40, now.y - from.y + 50)).toBeLessThan(1.5);
    // The map stayed where it was.
    const back = await onPage(page, { lon: before.position.x, lat: before.position.y });
    expect(Math.hypot(back.x - from.x, back.y - from.y)).toBeLessThan(0.5);
    expect(await page.evaluate(() => window.hollowline?.store.get().history.undo.length)).toBe(1);
    await page.getByRole('button', { name: 'Undo: Move a point' }).click();
    await expect.poll(async () => fixesOf(await lineNow(page, 'A'))[1]).toEqual(before);
  });

  it('is set by a tap on the map, or by the cross in its middle without a pointer', async () => {
    const page = await openLayout();
    await page.getByRole('button', { name: /^Line A/ }).click();
    await pressed(page, 'Add a point');
    await way(page, 'on the map');
    await page.getByLabel('At, m').fill('20');
    await pressed(page, 'Add the point');
    await page.getByRole('alert').getByText('Tap the map').waitFor();
    await page.getByRole('button', { name: 'Take this place' }).press('Enter');
    await page.getByText('written down as good to').waitFor();
    await pressed(page, 'Add the point');
    await page.getByRole('button', { name: '20 m: correct' }).waitFor();
    const point = fixesOf(await lineNow(page, 'A')).find(({ chainage_m: chainage }) => chainage === 20);
    const view = await page.evaluate(() => {
      const map = window.hollowline?.map as unknown as { getCenter(): { lng: number; lat: number } };
      return map.getCenter();
    });
    expect(
      geodesicDistanceM({ lon: point?.position.x ?? 0, lat: point?.position.y ?? 0 }, { lon: view.lng, lat: view.lat }),
    ).toBeLessThan(0.2);
    // The points drawn there are good to 3 m, which a tap cannot better.
    expect(point?.position.accuracy_m).toBeGreaterThanOrEqual(3);
    expect(await page.getByRole('button', { name: 'Take this place' }).count()).toBe(0);
  });

  it('is typed as coordinates, corrected, and taken out', async () => {
    const page = await openLayout();
    await page.getByRole('button', { name: /^Line A/ }).click();
    await pressed(page, 'Add a point');
    await way(page, 'by coordinates');
    await page.getByLabel('At, m').fill('80');
    await page.getByLabel('Coordinates', { exact: true }).fill('nowhere');
    await pressed(page, 'Add the point');
    await page.getByRole('alert').getByText('is not a place').waitFor();
    const there = geodesicDestination(geodesicDestination(start, 180, 40), 90, 80);
    await page.getByLabel('Coordinates', { exact: true }).fill(`${there.lat.toFixed(7)} N ${there.lon.toFixed(7)} E`);
    await page.getByText('Understood as 46.9').waitFor();
    await pressed(page, 'Add the point');
    await page.getByRole('button', { name: '80 m: correct' }).click();
    await page.getByLabel('At, m').fill('80,5');
    await pressed(page, 'Correct');
    await page.getByRole('button', { name: '80.5 m: correct' }).click();
    const corrected = fixesOf(await lineNow(page, 'A'))[2];
    expect(corrected?.position.as_entered).toEqual([`${there.lat.toFixed(7)} N ${there.lon.toFixed(7)} E`]);
    await pressed(page, 'Take this out');
    await expect.poll(() => page.getByRole('button', { name: '80.5 m: correct' }).count()).toBe(0);
  });

  it('is refused where two tapes do not meet, with the metres that are wrong', async () => {
    const page = await openLayout();
    await page.getByRole('button', { name: /^Line A/ }).click();
    await pressed(page, 'Add a point');
    await way(page, 'by two tapes');
    await page.getByLabel('At, m').fill('20');
    for (const [i, reads] of ['15', '20'].entries()) await page.getByLabel('reads, m').nth(i).fill(reads);
    await way(page, 'left');
    await pressed(page, 'Add the point');
    await page.getByRole('alert').getByText('5 m too short').waitFor();
    await page.getByLabel('reads, m').nth(0).fill('21');
    await page.getByLabel('reads, m').nth(1).fill('22');
    await pressed(page, 'Add the point');
    await page.getByRole('button', { name: '20 m: correct' }).waitFor();
    expect((await lineNow(page, 'A'))?.path[2]).toMatchObject({
      kind: 'two_tapes',
      side: 'left',
      first_distance_m: 21,
    });
  });
});

describe('a leg of tape and compass', () => {
  it('says where it leads before it is added, and how it closes afterwards', async () => {
    const page = await openLayout();
    await page.getByRole('button', { name: /^Line A/ }).click();
    await pressed(page, 'Add a point');
    await way(page, 'by bearing and tape');
    await page.getByLabel('Bearing, °').fill('90');
    await page.getByLabel('Tape, m').fill('39');
    await page.getByLabel('North of the bearing').selectOption('true');
    await page.getByText('This puts the point at 39 m').waitFor();
    await page.getByLabel('Tape, m').fill('40');
    await pressed(page, 'Add the point');
    await page.getByText('90° from true north, 40 m from 0 m').waitFor();
    await page.locator('p', { hasText: 'It misses the known end by 0 m' }).waitFor();
    expect(await page.getByRole('img', { name: 'Traverse of line A' }).isVisible()).toBe(true);
    await page.getByLabel('Remotes away, m').fill('300');
    await page.getByText('comes out 4.8 to 5 % too low').waitFor();
  });
});

describe('a line drawn on the map', () => {
  it('is measured while it is drawn, gets its chainages typed over, and leaves nothing of the drawing behind', async () => {
    const page = await openLayout(PHONE);
    await pressed(page, 'Draw a line on the map');
    await expect.poll(() => leftByDrawing(page)).not.toEqual([]);
    const box = await page.locator('.ground').boundingBox();
    const [left, top] = [box?.x ?? 0, box?.y ?? 0];
    const taps = [
      [60, 160],
      [160, 130],
      [260, 160],
    ] as const;
    const places: { lon: number; lat: number }[] = [];
    for (const [i, [x, y]] of taps.entries()) {
      places.push(
        await page.evaluate(
          ([px, py]) => {
            const at = window.hollowline?.map.unproject([px as number, py as number]);
            return { lon: at?.lng ?? 0, lat: at?.lat ?? 0 };
          },
          [x, y],
        ),
      );
      await page.touchscreen.tap(left + x, top + y);
      await page.getByText(`${i + 1} point`).waitFor();
      // Nobody taps faster; two taps at once mean something else to a browser.
      await page.waitForTimeout(350);
    }
    const [a, b, c] = places as [
      { lon: number; lat: number },
      { lon: number; lat: number },
      { lon: number; lat: number },
    ];
    const total = geodesicDistanceM(a, b) + geodesicDistanceM(b, c);
    const said = (await page.locator('.live').first().textContent()) ?? '';
    expect(Number(/([\d.]+) m in all/.exec(said)?.[1])).toBeCloseTo(total, 0);

    await pressed(page, 'Undo the last point');
    await page.getByText('2 points,').waitFor();
    await page.touchscreen.tap(left + 260, top + 160);
    await page.getByText('3 points,').waitFor();
    await pressed(page, 'It ends here');
    expect(await leftByDrawing(page)).toEqual([]);
    await page.getByLabel('Name').fill('Drawn');
    const along = geodesicDistanceM(a, b);
    expect(Number(await page.getByLabel('Bend 1').inputValue())).toBeCloseTo(along, 0);
    await page.getByLabel('Bend 1').fill((along + 0.4).toFixed(1));
    await pressed(page, 'Add the line');
    await page.getByText('long, on the map').waitFor();
    const fixes = fixesOf(await lineNow(page, 'Drawn'));
    expect(fixes.map(({ corner }) => corner ?? null)).toEqual([null, true, null]);
    expect(fixes[1]?.chainage_m).toBeCloseTo(along + 0.4, 1);
    expect(fixes.every(({ position }) => position.source === 'map' && (position.accuracy_m ?? 0) >= 3)).toBe(true);
    expect(await page.evaluate(() => window.hollowline?.store.get().history.undo.length)).toBe(1);
  });

  it('snaps to placed points, and is gone when it is given up', async () => {
    const page = await openLayout();
    await pressed(page, 'Draw a line on the map');
    await expect.poll(() => leftByDrawing(page)).not.toEqual([]);
    const control = fixesOf(await lineNow(page, 'A'))[0] as Fix;
    const at = await onPage(page, { lon: control.position.x, lat: control.position.y });
    await page.mouse.click(at.x + 8, at.y - 6);
    await page.getByText('1 point').waitFor();
    const first = await page.evaluate(() => window.hollowline?.store.get().layout.sketch?.vertices[0]);
    expect(first).toMatchObject({ snappedTo: control.id });
    expect(first?.lon).toBeCloseTo(control.position.x, 8);
    await page.mouse.move(at.x + 100, at.y - 100, { steps: 3 });
    await page.getByText(/To the pointer: [\d.]+ m, bearing 4[45]\./).waitFor();
    await pressed(page, 'Cancel');
    expect(await leftByDrawing(page)).toEqual([]);
    expect(await page.evaluate(() => window.hollowline?.store.get().history.undo.length)).toBe(0);
  });
});

describe('coordinates', () => {
  it('are shown in the form that was chosen, also under the pointer, and on the next day', async () => {
    const page = await openLayout();
    await page.getByRole('button', { name: /^Line A/ }).click();
    const row = page.getByRole('table', { name: 'Electrodes of this line' }).getByRole('row', { name: /^0 m/ });
    expect(await row.textContent()).toMatch(/46\.9996\d*, 10\.0000/);
    await page.getByLabel('Coordinates as').selectOption('utm');
    await expect.poll(() => row.textContent()).toContain('UTM 32 north');
    await page.getByLabel('Coordinates as').selectOption('code');
    await page.getByRole('textbox', { name: /^EPSG code/ }).fill('25832');
    await expect.poll(() => row.textContent()).toContain('EPSG:25832');
    const box = await page.locator('.ground').boundingBox();
    await page.mouse.move((box?.x ?? 0) + 300, (box?.y ?? 0) + 300);
    await expect.poll(() => page.locator('.map-place').textContent()).toContain('Under the pointer: EPSG:25832');
    await page.reload();
    await mapAtRest(page);
    await pressed(page, 'Lay out');
    await expect.poll(() => page.locator('.map-place').textContent()).toContain('EPSG:25832');
  });
});

describe('the margin', () => {
  it('has nothing for axe to say in any theme, in the list, a line, every way of placing, and while drawing', async () => {
    const page = await openLayout(PHONE);
    await expectNothingForAxe(page);
    await page.getByRole('button', { name: /^Line A/ }).click();
    await page.getByLabel('One every, m').fill('10');
    await page.getByLabel('Remotes away, m').fill('300');
    await pressed(page, 'Add a point');
    for (const name of ['here (GPS)', 'by coordinates', 'by bearing and tape', 'by two tapes']) {
      await way(page, name);
      await expectNothingForAxe(page);
    }
    await pressed(page, 'All lines');
    await pressed(page, 'Draw a line on the map');
    await expectNothingForAxe(page);
  });

  it('says how to look for a void, and refuses one without a roof', async () => {
    const page = await openLayout();
    const plan = page.getByRole('form', { name: 'Plan' });
    await plan.getByLabel('Depth of its middle, m').fill('0.5');
    await plan.getByRole('button', { name: 'Work it out' }).click();
    await plan.getByRole('alert').getByText('has no roof').waitFor();
    await plan.getByLabel('Depth of its middle, m').fill('2');
    await plan.getByRole('button', { name: 'Work it out' }).click();
    await page.getByText('It shows best at 1.5 m.').waitFor();
    await page.getByText('No reading at all is no proof of sound ground.').waitFor();
  });

  it('plans for a flooded passage at an angle under a Schlumberger array, reading by reading', async () => {
    const page = await openLayout();
    const plan = page.getByRole('form', { name: 'Plan' });
    await plan.getByLabel('Read by').selectOption('schlumberger');
    await plan.getByText('What fills it, how it runs, which readings').click();
    await plan.getByLabel('Filled with').selectOption('water');
    await plan.getByLabel('Angle to the line, °').fill('45');
    await plan.getByLabel('Readings at spacings, m').fill('2 4');
    await plan.getByLabel('and at midpoints, m from it').fill('0 2,5');
    await plan.getByRole('button', { name: 'Work it out' }).click();
    const table = page.getByRole('table', { name: 'Readings that would be seen' });
    await table.waitFor();
    const cells = await table.getByRole('row').allInnerTexts();
    expect(cells.slice(1).map((row) => row.split('\t').slice(0, 2))).toEqual([
      ['2 m', 'over it'],
      ['2 m', '2.5 m'],
      ['4 m', 'over it'],
      ['4 m', '2.5 m'],
    ]);
    // Water leads better than the ground around it.
    for (const row of cells.slice(1)) expect(row).toMatch(/−\d/);
    await expectNothingForAxe(page);
  });
});
