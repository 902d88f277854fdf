import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { expectNothingForAxe } from './axe';
import { DESK, mapAtRest, PHONE } from './open-page';
import { setStage } from './stage';

/** A public inventory, in a checkout that has it beside it. */
const REAL = resolve(import.meta.dirname, '../../../shared/real-data/ufa-sinkholes/karst_sinkholes.every2nd.geojson');

const stage = setStage();

const PATIENCE_MS = 45_000;

/**
 * A keeper's table, made for these tests: its own headers, degrees as text, one place given twice that disagrees, one
 * minute that cannot be, one entrance twice 3 m apart, and directions of long axes.
 */
const TABLE = [
  'Ref;Kind;Called;LatText;LonText;Y deg;X deg;Trend',
  'K1;solution sinkhole;Upper hollow;47°30\'00.0"N;12°30\'00.0"E;47.5;12.5;40',
  'K2;cave entrance;Beech cave;47°30\'36.0"N;12°30\'36.0"E;47.51;12.51;',
  'K3;cave entrance;Beech Cave;;;47.510027;12.51;',
  'K4;spring;Cold spring;47°36\'00.0"N;12°30\'00.0"E;47.52;12.5;',
  'K5;shaft;Deep shaft;47°75\'00.0"N;12°30\'00.0"E;;;',
  ...Array.from(
    { length: 12 },
    (_, i) => `S${i};mystery place;;;;${47.5 + i * 0.001};${12.5 + (i % 3) * 0.002};${35 + i}`,
  ),
].join('\n');

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name });
const part = (page: Page, name: string) =>
  page.locator('.karst-part').filter({ has: page.locator('summary', { hasText: name }) });
const openPart = async (page: Page, name: string) => {
  await part(page, name).locator('summary').first().click();
  return part(page, name);
};
const bring = (page: Page, name: string, content: Buffer | string) =>
  page.getByLabel('A file of karst features').setInputFiles({
    name,
    mimeType: 'application/octet-stream',
    buffer: Buffer.from(content),
  });
const featuresOf = (page: Page) =>
  page.evaluate(() => {
    const phase = window.hollowline?.store.get().phase;
    if (phase?.kind !== 'ready') return [];
    return phase.content.survey.features.map(({ id, type, name, retired, status, confidentiality }) => ({
      id,
      type,
      name,
      retired,
      status,
      confidentiality,
    }));
  });

async function opened(options: BrowserContextOptions): Promise<Page> {
  const page = await stage.open(options);
  await button(page, 'Karst').click();
  await button(page, 'Bring in features').waitFor();
  return page;
}

/** Features of a source that are in the map. */
const held = (page: Page, source: string) =>
  page.evaluate(async (id) => {
    const map = window.hollowline?.map as unknown as {
      getSource(id: string): { getData(): Promise<GeoJSON.FeatureCollection> };
    };
    return (await map.getSource(id).getData()).features.length;
  }, source);

/** No look is checked twice: what is in the margin changes more than how it is coloured. */
const axe = (page: Page, look: 'light' | 'dark' | 'sunlight') => expectNothingForAxe(page, '.margin', [look]);

/** Clicks the first thing of a layer that lies on the map where nothing covers it; false where there is none. */
async function clickOn(page: Page, layer: string): Promise<boolean> {
  const at = await page.evaluate((id) => {
    const map = window.hollowline?.map as unknown as {
      queryRenderedFeatures(options: { layers: string[] }): { geometry: { coordinates: [number, number] } }[];
      project(place: [number, number]): { x: number; y: number };
      getCanvas(): HTMLCanvasElement;
    };
    const { left, top } = map.getCanvas().getBoundingClientRect();
    for (const { geometry } of map.queryRenderedFeatures({ layers: [id] })) {
      const { x, y } = map.project(geometry.coordinates);
      const place = { x: x + left, y: y + top };
      if (document.elementFromPoint(place.x, place.y) === map.getCanvas()) return place;
    }
    return null;
  }, layer);
  if (at) await page.mouse.click(at.x, at.y);
  return at !== null;
}

const zoomOf = (page: Page) =>
  page.evaluate(() => (window.hollowline?.map as unknown as { getZoom(): number } | undefined)?.getZoom() ?? 0);

const KML = `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document>${[0, 1, 2]
  .map(
    (i) =>
      `<Placemark><name>Spring ${i}</name><description>spring</description><Point><coordinates>12.5,${47.5 + i * 0.01}</coordinates></Point></Placemark>`,
  )
  .join('')}</Document></kml>`;

describe('the karst margin', { timeout: 4 * PATIENCE_MS }, () => {
  it('brings in a table, joins a duplicate, measures, sets back and hides an entrance', async () => {
    const page = await opened(DESK);
    await bring(page, 'keeper.csv', TABLE);
    await page.getByRole('heading', { name: 'What keeper.csv holds' }).waitFor();
    await page.getByText('17 rows').waitFor();

    // Its own headers are said by hand; the preview follows.
    for (const [header, meaning] of [
      ['Ref', 'external_id'],
      ['Called', 'name'],
      ['LatText', 'lat_text'],
      ['LonText', 'lon_text'],
      ['Y deg', 'lat'],
      ['X deg', 'lon'],
    ] as const) {
      await page.getByRole('combobox', { name: `Meaning of ${header}` }).selectOption(meaning);
    }
    await page.getByRole('combobox', { name: 'Type of mystery place' }).selectOption('swallow_hole');
    const faults = page.locator('.karst-faults summary');
    await page.getByText('Positions given twice that disagree: 1, kept').waitFor();
    await expect.poll(() => faults.allTextContents()).toContain('Coordinates that cannot be: 1, left out');
    await axe(page, 'light');
    await button(page, 'Bring in 16 features').click();
    await page.getByText('16 features in the inventory.').waitFor();
    await mapAtRest(page);
    await expect.poll(() => held(page, 'feature_points')).toBe(16);

    // The same file again brings nothing, and is read as it was read before.
    await bring(page, 'keeper.csv', TABLE);
    await button(page, 'Nothing new to bring in').waitFor();
    expect(await page.getByRole('combobox', { name: 'Meaning of Ref' }).inputValue()).toBe('external_id');
    await button(page, 'Cancel').click();

    // Beech cave was entered twice, 0.000027° of latitude (3.0 m) apart.
    const match = await openPart(page, 'Likely duplicates');
    await button(page, 'Look for duplicates').click();
    const pair = match.getByRole('listitem').filter({ hasText: 'Beech' });
    expect(await pair.first().textContent()).toMatch(/^(3|3\.0\d|2\.9\d) m apart; /);
    await pair.first().getByRole('button', { name: 'Keep both' }).click();
    await match.getByText(/^No pair is left/).waitFor();
    await button(page, /^Undo/).click();
    await pair.first().getByRole('button', { name: 'Both are the first' }).click();
    await expect.poll(async () => (await featuresOf(page)).filter(({ retired }) => retired).length).toBe(1);
    await button(page, /^Undo/).click();
    await expect.poll(async () => (await featuresOf(page)).filter(({ retired }) => retired).length).toBe(0);

    const measure = await openPart(page, 'Neighbours and long axes');
    await button(page, 'Measure').click();
    await measure.getByText('edge corrected (Donnelly 1978)').waitFor();
    expect(await measure.textContent()).toMatch(/13 features with a long axis; mean axis 40° from true north/);
    expect(await measure.getByRole('group', { name: 'Directions of long axes' }).count()).toBe(1);

    const density = await openPart(page, 'Density');
    await density.getByRole('textbox', { name: 'Side of a square, m' }).fill('500');
    await button(page, 'Draw the density').click();
    await density.getByText('at most in one').waitFor();
    await expect.poll(() => held(page, 'density')).toBeGreaterThan(1);

    const setbacks = await openPart(page, 'Setbacks');
    await setbacks.getByRole('combobox', { name: 'For' }).selectOption('cave_entrance');
    await setbacks.getByRole('button', { name: 'Set this rule' }).click();
    await setbacks.getByText('Say the distance in metres.').waitFor();
    await setbacks.getByRole('textbox', { name: 'Distance, m' }).fill('50');
    await setbacks.getByRole('button', { name: 'Set this rule' }).click();
    await button(page, 'Draw the setbacks').click();
    await setbacks.getByText('1 area round 2 features; 14 have no rule.').waitFor();
    await expect.poll(() => held(page, 'setbacks')).toBe(1);

    // A class of one's own, and an entrance under it.
    const classes = await openPart(page, 'What each class may show');
    await button(page, 'Add a class').click();
    await classes.getByRole('textbox', { name: 'Name of the class' }).fill('bats');
    await classes.getByRole('combobox', { name: 'A planner sees it' }).selectOption('generalised');
    await classes.getByRole('textbox', { name: 'Side of the squares, m' }).fill('1000');
    await classes.getByRole('textbox', { name: /^Radius within/ }).fill('100');
    await button(page, 'Keep this class').click();
    await classes.getByText('planner by squares of 1000 m').waitFor();
    await axe(page, 'dark');
    await page.getByRole('searchbox').fill('beech');
    const row = button(page, /Beech cave/).first();
    await row.focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe('Beech cave');
    await button(page, 'Change what is said').click();
    await page.getByRole('combobox', { name: 'Confidentiality class' }).selectOption('bats');
    await button(page, 'Keep this').click();
    await expect
      .poll(async () => (await featuresOf(page)).filter(({ confidentiality }) => confidentiality === 'bats').length)
      .toBe(1);
    await axe(page, 'sunlight');

    // Taken out with a reason, and back again.
    await button(page, 'Take it out').click();
    await page.getByRole('textbox', { name: 'Why it is taken out' }).fill('entered by mistake');
    await page.keyboard.press('Enter');
    await button(page, 'Restore').click();
    await expect.poll(async () => (await featuresOf(page)).some(({ retired }) => retired)).toBe(false);
    // By keys alone the way back ends where it began.
    await button(page, /^Back$/).focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toContain('Beech cave');

    // On the map: a gathering parts, a symbol opens its card.
    await page.evaluate(() => {
      const map = window.hollowline?.map as unknown as { jumpTo(view: object): void };
      map.jumpTo({ center: [12.502, 47.507], zoom: 12 });
    });
    await mapAtRest(page);
    const before = await zoomOf(page);
    expect(await clickOn(page, 'feature_clusters')).toBe(true);
    await expect.poll(() => zoomOf(page)).toBeGreaterThan(before + 1);
    for (let taps = 0; taps < 6; taps += 1) {
      await mapAtRest(page);
      if (await clickOn(page, 'feature_symbols')) break;
      await clickOn(page, 'feature_clusters');
    }
    await button(page, 'Change what is said').waitFor();
    await button(page, /^Back$/).click();

    // A zone comes in as an anomaly that nobody verified, and is opened from the zone.
    const zones = await openPart(page, 'Zones of this survey');
    await zones.getByRole('button', { name: 'Send it to the karst inventory' }).first().click();
    await zones.getByRole('button', { name: 'Open it in the inventory' }).click();
    await page.locator('.verdict').getByText('Geophysical anomaly, unverified; reported, nobody checked it').waitFor();
    expect((await featuresOf(page)).at(-1)).toMatchObject({
      ...{ type: 'geophysical_anomaly', name: 'Zone 1', status: 'reported' },
    });
    await expect.poll(() => held(page, 'feature_areas')).toBe(1);
    await button(page, 'Open Zone 1').click();
    await button(page, 'Send it again with what is known now').waitFor();
  });

  it('has room on a phone, and reads a KML', async () => {
    const page = await opened(PHONE);
    await bring(page, 'springs.kml', KML);
    await button(page, 'Bring in 3 features').click();
    await page.getByText('3 features in the inventory.').waitFor();
    expect((await featuresOf(page)).map(({ name }) => name)).toEqual(['Spring 0', 'Spring 1', 'Spring 2']);
    await button(page, /Spring 1/).click();
    await button(page, 'Change what is said').waitFor();
    const roomy = () => page.evaluate(() => document.documentElement.scrollWidth);
    expect(await roomy()).toBe(PHONE.viewport?.width);
    // The bar has room for every margin and what stands behind them.
    expect(await page.locator('.bar').evaluate((bar) => bar.scrollWidth - bar.clientWidth)).toBe(0);
    await button(page, /^Back$/).click();
  });

  it.runIf(existsSync(REAL))('names what is wrong with a real file, by kind', async () => {
    const page = await opened(PHONE);
    await bring(page, 'ufa.geojson', await readFile(REAL));
    await page.locator('.karst-faults').waitFor();
    expect(await page.locator('.karst-faults summary').allTextContents()).toContainEqual(
      expect.stringMatching(/^Positions given twice that disagree: \d+/),
    );
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.viewport?.width);
  });
});
