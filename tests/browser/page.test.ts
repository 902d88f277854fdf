import { execFile } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { geojsonText } from '../../src/exchange/write/geojson';
import { LAYER_NAMES, type LayerFeature, type LayerName } from '../../src/exchange/write/layer-collection';
import { RAMP_KEYS, RAMP_STROKE, rampKey } from '../../src/map/ramp';
import { DEMO_FILE, demoContent } from '../app/demo-content';
import { DESK, mapAtRest, PHONE, strokesDrawn } from './open-page';
import { colourAt } from './pixel';
import { setStage } from './stage';

const { layers } = demoContent();

const stage = setStage();

async function open(options = DESK): Promise<Page> {
  return stage.open(options);
}

/** A place on the screen, a part of the way along a stroke that lies on its line. */
async function onScreen(page: Page, feature: LayerFeature, part: number): Promise<{ x: number; y: number }> {
  if (feature.geometry.type !== 'LineString') throw new Error('a stroke is a line');
  const [first = [0, 0], last = [0, 0]] = [feature.geometry.coordinates[0], feature.geometry.coordinates.at(-1)];
  const place: [number, number] = [
    (first[0] ?? 0) + part * ((last[0] ?? 0) - (first[0] ?? 0)),
    (first[1] ?? 0) + part * ((last[1] ?? 0) - (first[1] ?? 0)),
  ];
  return page.evaluate((lonLat) => {
    const map = window.hollowline?.map;
    if (!map) throw new Error('no map');
    const { x, y } = map.project(lonLat);
    const box = map.getContainer().getBoundingClientRect();
    return { x: box.left + x, y: box.top + y };
  }, place);
}

async function showAlone(page: Page, spacingM: number): Promise<void> {
  await page.getByRole('radio', { name: `${spacingM} m`, exact: true }).check({ force: true });
  await mapAtRest(page);
}

async function goTo(page: Page, feature: LayerFeature, zoom: number): Promise<void> {
  if (feature.geometry.type !== 'LineString') throw new Error('a stroke is a line');
  await page.evaluate(
    ([center, closeness]) => window.hollowline?.map.easeTo({ center, zoom: closeness, animate: false }),
    [feature.geometry.coordinates[0] as [number, number], zoom] as const,
  );
  await mapAtRest(page);
}

/** Straight strokes of one spacing, one of each place on the ramp that occurs. */
function oneOfEach(spacingM: number): LayerFeature[] {
  const strokes = layers.segments.features.filter(
    ({ properties, geometry }) =>
      properties.spacing_m === spacingM &&
      properties.figure_kind !== 'two_probe' &&
      geometry.type === 'LineString' &&
      geometry.coordinates.length === 2,
  ) as LayerFeature[];
  return RAMP_KEYS.flatMap((key) => strokes.find(({ properties }) => rampKey(properties) === key) ?? []);
}

describe('the page', () => {
  it('names the site, says that it is invented, and counts what is on it', async () => {
    const page = await open();
    expect(await page.title()).toBe('Brackamore Slade · Hollowline');
    expect(await page.getByRole('heading', { name: 'Brackamore Slade' }).isVisible()).toBe(true);
    expect(await page.getByText('Invented site', { exact: true }).isVisible()).toBe(true);
    expect(await page.getByText(/^9 lines, 1527 readings/).isVisible()).toBe(true);
    expect(await strokesDrawn(page)).toBeGreaterThan(500);
  });

  it('holds in its map the strokes that the layers have, in their places and colours', async () => {
    const page = await open();
    const held = await page.evaluate(async () => {
      const source = window.hollowline?.map.getSource('segments') as unknown as {
        getData(): Promise<GeoJSON.FeatureCollection>;
      };
      return (await source.getData()).features.map(({ geometry, properties }) => ({ geometry, properties }));
    });
    expect(held).toHaveLength(layers.segments.features.length);
    const bySid = new Map(layers.segments.features.map((feature) => [feature.properties.sid, feature]));
    for (const { geometry, properties } of held) {
      const written = bySid.get(properties?.sid);
      expect(geometry).toEqual(written?.geometry);
      expect(RAMP_STROKE.light[properties?.ramp as keyof typeof RAMP_STROKE.light]).toBe(written?.properties.stroke);
    }
  });

  it('draws strokes where they lie on the ground', async () => {
    const page = await open();
    await showAlone(page, 2);
    const strokes = oneOfEach(2);
    expect(strokes.length).toBeGreaterThanOrEqual(4);
    for (const stroke of strokes) {
      await goTo(page, stroke, 21);
      const at = await onScreen(page, stroke, 0.5);
      const found = await page.evaluate(({ x, y }) => {
        const map = window.hollowline?.map;
        if (!map) throw new Error('no map');
        const box = map.getContainer().getBoundingClientRect();
        const [left, top] = [x - box.left, y - box.top];
        const layers = ['segments', 'segments_unmeasured'];
        const features = map.queryRenderedFeatures(
          [
            [left - 1, top - 1],
            [left + 1, top + 1],
          ],
          { layers },
        );
        return features.map(({ properties }) => properties.sid);
      }, at);
      expect(found).toContain(stroke.properties.sid);
    }
  });

  it('puts the colours of the ramp on the screen, in every theme', async () => {
    const page = await open();
    await showAlone(page, 2);
    const stroke = oneOfEach(2).find(({ properties }) => rampKey(properties) === 'clear_above');
    if (!stroke) throw new Error('the demo has a clear high at 2 m');
    await goTo(page, stroke, 21);
    for (const theme of ['light', 'dark', 'sunlight'] as const) {
      await page.getByLabel('Colours').selectOption(theme);
      await page.waitForTimeout(200);
      await mapAtRest(page);
      const at = await onScreen(page, stroke, 0.25);
      expect([theme, await colourAt(stage.browser, page, at)]).toEqual([theme, RAMP_STROKE[theme].clear_above]);
    }
  });

  it('shows one spacing alone, or each in a lane of its own', async () => {
    const page = await open();
    const drawn = () =>
      page.evaluate(() => {
        const map = window.hollowline?.map as unknown as {
          queryRenderedFeatures(options: { layers: string[] }): { properties: { spacing_m: number } }[];
        };
        const found = map.queryRenderedFeatures({ layers: ['segments'] });
        return [...new Set(found.map(({ properties }) => properties.spacing_m))].sort((a, b) => a - b);
      });
    expect(await drawn()).toEqual([1, 2, 3, 5, 8, 12]);
    await showAlone(page, 5);
    expect(await drawn()).toEqual([5]);
  });

  it('lays the strokes at the probes when asked, and keeps what is open', async () => {
    const page = await open();
    await page.getByRole('list').filter({ hasText: 'Line C' }).getByRole('button').first().click();
    const title = await page.locator('#card-head').textContent();
    await page.getByRole('button', { name: 'Back', exact: true }).click();
    await page.getByRole('radio', { name: 'at its probes' }).check({ force: true });
    await page.waitForFunction(
      () => window.hollowline?.store.get().drawn?.layers.segments.features[0]?.properties.drape === 'probes',
    );
    await mapAtRest(page);
    await page.getByRole('list').filter({ hasText: 'Line C' }).getByRole('button').first().click();
    expect(await page.locator('#card-head').textContent()).toBe(title);
  });

  it('tells all of a reading when its stroke is clicked', async () => {
    const page = await open();
    await showAlone(page, 2);
    const stroke = oneOfEach(2).find(({ properties }) => rampKey(properties) === 'clear_above');
    if (!stroke) throw new Error('the demo has a clear high at 2 m');
    await goTo(page, stroke, 21);
    const at = await onScreen(page, stroke, 0.25);
    await page.mouse.click(at.x, at.y);
    const card = page.getByRole('article');
    await card.waitFor();
    const { line, chainage_m: chainage } = stroke.properties;
    expect(await card.getByRole('heading').textContent()).toBe(`Line ${line}, ${chainage}\u00a0m, spacing 2\u00a0m`);
    const told = (await card.textContent()) ?? '';
    for (const term of ['Meter showed', 'Reference', 'Ratio', 'Depth', 'Probes', 'Position', 'All spacings here']) {
      expect(told).toContain(term);
    }
  });

  it('writes the same bytes as the command line', async () => {
    const page = await open();
    const folder = await mkdtemp(join(tmpdir(), 'layers-'));
    try {
      const root = fileURLToPath(new URL('../..', import.meta.url));
      const tsx = join(root, 'node_modules', 'tsx', 'dist', 'cli.mjs');
      const main = join(root, 'src', 'cli', 'main.ts');
      await promisify(execFile)(process.execPath, [tsx, main, 'map', DEMO_FILE, '--out', folder]);
      expect(await readdir(folder)).toEqual(expect.arrayContaining(LAYER_NAMES.map((name) => `${name}.geojson`)));
      await page.getByRole('button', { name: 'Hand over' }).click();
      const saved = async (name: LayerName): Promise<Buffer> => {
        const download = page.waitForEvent('download');
        await page.getByRole('button', { name: `${name}.geojson` }).click();
        const file = await download;
        expect(file.suggestedFilename()).toBe(`${name}.geojson`);
        return readFile(await file.path());
      };
      for (const name of LAYER_NAMES) {
        const bytes = await saved(name);
        expect(bytes.equals(await readFile(join(folder, `${name}.geojson`)))).toBe(true);
        expect(bytes.toString('utf8')).toBe(geojsonText(layers[name]));
      }
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });

  it('can be read with the keyboard alone, and gives the focus back', async () => {
    const page = await open();
    const focused = () =>
      page.evaluate(() => {
        const element = document.activeElement;
        return element && element !== document.body ? (element.textContent ?? '') : '';
      });
    let steps = 0;
    while (!(await focused()).includes('Line C') && steps < 40) {
      await page.keyboard.press('Tab');
      steps += 1;
    }
    const row = await focused();
    expect(row).toMatch(/Line C, .*above the reference/);
    const outline = await page.evaluate(() =>
      document.activeElement ? getComputedStyle(document.activeElement).outlineStyle : 'none',
    );
    expect(outline).toBe('solid');
    await page.keyboard.press('Enter');
    await page.getByRole('article').waitFor();
    expect(await focused()).toMatch(/^Line C/);
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('Back');
    await page.keyboard.press('Enter');
    expect(await focused()).toBe(row);
  });

  it('gives the map the whole page when the margin is put away', async () => {
    const page = await open();
    const width = () => page.locator('.maplibregl-canvas').evaluate((canvas) => canvas.clientWidth);
    expect(await width()).toBeLessThan(1100);
    const read = page.getByRole('button', { name: 'Read', exact: true });
    await read.click();
    expect(await read.getAttribute('aria-expanded')).toBe('false');
    await page.waitForFunction(() => document.querySelector('.maplibregl-canvas')?.clientWidth === 1440);
    await read.click();
    expect(await page.getByRole('heading', { name: 'Legend' }).isVisible()).toBe(true);
  });

  it('does not ride to a place where motion is not wanted', async () => {
    const page = await open({ ...DESK, reducedMotion: 'reduce' });
    await page.getByRole('list').filter({ hasText: 'Line C' }).getByRole('button').first().click();
    await page.getByRole('article').waitFor();
    const moved = await page.evaluate(() => {
      const map = window.hollowline?.map as unknown as { isMoving(): boolean; getZoom(): number };
      return { moving: map.isMoving(), zoom: map.getZoom() };
    });
    expect(moved).toEqual({ moving: false, zoom: 19 });
  });
});

describe('the page on a phone', () => {
  it('has targets for a thumb, numbers that can be read, and nothing beyond the edge', async () => {
    const page = await open(PHONE);
    await page.getByRole('list').filter({ hasText: 'Line C' }).getByRole('button').first().tap();
    await page.getByRole('article').waitFor();
    const found = await page.evaluate(() => {
      const visible = (element: Element) => element.getClientRects().length > 0;
      const name = (element: Element) => element.textContent?.trim().slice(0, 20) || element.getAttribute('aria-label');
      const targets = [...document.querySelectorAll('button, select, summary, .chip')].filter(visible);
      const texts = [...document.querySelectorAll('p, li, td, th, dt, dd, h1, h2, button, span, select')].filter(
        visible,
      );
      return {
        small: targets
          .filter((element) => {
            const { width, height } = element.getBoundingClientRect();
            return width < 44 || height < 44;
          })
          .map(name),
        tiny: texts.filter((element) => Number.parseFloat(getComputedStyle(element).fontSize) < 16).map(name),
        width: document.documentElement.scrollWidth,
      };
    });
    expect(found).toEqual({ small: [], tiny: [], width: 390 });
  });

  it('puts its margin away for the map, brings it back for a stroke that is tapped, and pulls it up', async () => {
    const page = await open(PHONE);
    const sight = () => page.locator('.sight').evaluate((element) => element.clientHeight);
    const before = await sight();
    await page.getByRole('button', { name: 'Read', exact: true }).tap();
    expect(await sight()).toBeGreaterThan(before + 200);
    await showAlone(page, 2);
    const stroke = oneOfEach(2).find(({ properties }) => rampKey(properties) === 'clear_above');
    if (!stroke) throw new Error('the demo has a clear high at 2 m');
    await goTo(page, stroke, 20.5);
    const at = await onScreen(page, stroke, 0.25);
    await page.touchscreen.tap(at.x, at.y);
    await page.getByRole('article').waitFor();
    expect(await sight()).toBe(before);
    await page.getByRole('button', { name: 'Margin to full height' }).tap();
    const margin = await page.locator('#margin').evaluate((element) => element.clientHeight);
    expect(margin).toBeGreaterThan(700);
  });
});
