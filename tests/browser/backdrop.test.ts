import type { BrowserContextOptions, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { FIRST_OPACITY } from '../../src/app/backdrop/backdrop-kinds';
import { localPlane } from '../../src/position/crs';
import { madePmtiles } from '../helpers/made-pmtiles';
import { madePng } from '../helpers/made-png';
import { mapAtRest, openedPage, PHONE } from './open-page';
import { commonColourIn } from './pixel';
import { setStage } from './stage';

const stage = setStage();

type Colour = readonly [number, number, number];
const BLUE: Colour = [20, 80, 200];
const RED: Colour = [200, 40, 40];
const GREEN: Colour = [40, 160, 60];
/** `--map-paper` of styles/tokens.css. */
const PAPER = { light: [0xf6, 0xf1, 0xe4], dark: [0x1d, 0x1b, 0x17], sunlight: [255, 255, 255] } as const;

const tiles = Buffer.from(madePmtiles(madePng(256, 256, BLUE), { attribution: '<a href="#">Hill office</a>' }));
const twoHalves = Buffer.from(madePng(64, 64, (x) => (x < 32 ? RED : GREEN)));
const line = {
  type: 'FeatureCollection',
  features: [
    {
      type: 'Feature',
      properties: { name: 'The old wall' },
      geometry: {
        type: 'LineString',
        coordinates: [
          [0, 0],
          [0, 0],
        ] as [number, number][],
      },
    },
  ],
};

/** What is seen where something of an opacity lies on paper (source-over of the W3C compositing recommendation). */
const over = (top: Colour, opacity: number, paper: readonly number[]): number[] =>
  top.map((part, i) => part * opacity + (paper[i] as number) * (1 - opacity));

/** The colour that most of a square of the map has, at a part of its width and height. */
async function ground(page: Page, part: readonly [number, number]): Promise<readonly number[]> {
  const box = await page.locator('.ground').boundingBox();
  if (!box) throw new Error('no map');
  const at = { x: box.x + box.width * part[0], y: box.y + box.height * part[1] };
  return commonColourIn(stage.browser, page, { x: at.x - 15, y: at.y - 15, width: 30, height: 30 });
}

async function expectGround(page: Page, part: readonly [number, number], wanted: readonly number[]): Promise<void> {
  await mapAtRest(page);
  await expect
    .poll(async () => {
      const seen = await ground(page, part);
      return Math.max(...wanted.map((each, i) => Math.abs(each - (seen[i] as number))));
    })
    // Rounding of two steps, on the drawing surface and on the screen.
    .toBeLessThanOrEqual(3);
}

/** Small, since every dot of a picture is drawn in software. */
const SMALL: BrowserContextOptions = { viewport: { width: 800, height: 560 }, colorScheme: 'light' };

const LEFT = [0.3, 0.75] as const;
const RIGHT = [0.75, 0.75] as const;

/** Places at parts of the map's width and height. */
const placeAt = (page: Page, part: readonly [number, number]): Promise<{ lon: number; lat: number }> =>
  page.evaluate(([across, down]) => {
    const map = window.hollowline?.map;
    const { clientWidth = 0, clientHeight = 0 } = map?.getContainer() ?? {};
    const { lng = 0, lat = 0 } = map?.unproject([clientWidth * across, clientHeight * down]) ?? {};
    return { lon: lng, lat };
  }, part);

const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true }).click();

async function give(page: Page, ...files: { name: string; buffer: Buffer }[]): Promise<void> {
  await page
    .getByLabel('Backdrop file')
    .setInputFiles(files.map((file) => ({ ...file, mimeType: file.name.endsWith('.png') ? 'image/png' : '' })));
}

const cornersDrawn = (page: Page) =>
  page.evaluate(
    () =>
      (window.hollowline?.map.getSource('backdrop') as unknown as { coordinates: [number, number][] } | undefined)
        ?.coordinates ?? [],
  );

describe('a backdrop', () => {
  it('of tiles lies under the survey, says whose it is, and stays through another theme and a reload', async () => {
    const page = await stage.open(SMALL);
    page.setDefaultTimeout(10_000);
    await expectGround(page, LEFT, PAPER.light);
    await press(page, 'Backdrop');
    await give(page, { name: 'hills.txt', buffer: tiles });
    await page.getByRole('alert').getByText('hills.txt cannot be a backdrop').waitFor();
    await give(page, { name: 'hills.pmtiles', buffer: tiles.subarray(0, 60) });
    await page.getByRole('alert').getByText('no PMTiles file of version 3').waitFor();
    await give(page, { name: 'hills.pmtiles', buffer: tiles });
    await page.getByRole('radio', { name: /^hills\.pmtiles/, checked: true }).waitFor();
    await press(page, 'Close');
    expect(await page.locator('.backdrop-credit').textContent()).toBe('Hill office');
    await expectGround(page, LEFT, over(BLUE, FIRST_OPACITY.picture, PAPER.light));

    await page.getByLabel('Colours').selectOption('dark');
    await expectGround(page, LEFT, over(BLUE, FIRST_OPACITY.picture, PAPER.dark));
    await press(page, 'Backdrop');
    await page.getByRole('slider', { name: /^Strength/ }).fill('20');
    await press(page, 'Close');
    await expectGround(page, LEFT, over(BLUE, 0.2, PAPER.dark));
    // Kept when it says so in the list on the disk.
    await expect.poll(() => keptList(page)).toContain('"opacity":0.2');
    await page.reload();
    await mapAtRest(page);
    await page.locator('.backdrop-credit').getByText('Hill office').waitFor();
    await expectGround(page, LEFT, over(BLUE, 0.2, PAPER.dark));

    await press(page, 'Backdrop');
    await press(page, 'Remove hills.pmtiles');
    await press(page, 'Delete hills.pmtiles from this device');
    await page.getByRole('radio', { name: 'Paper and grid', checked: true }).waitFor();
    await press(page, 'Close');
    await expectGround(page, LEFT, PAPER.dark);
    expect(await keptList(page)).toBe('[]');
  });

  it('is a picture by its world file or by tied points, or tracks that take no taps', async () => {
    const page = await stage.open(SMALL);
    const [northWest, southEast] = [await placeAt(page, [0, 0]), await placeAt(page, [1, 1])];
    const step = { lon: (southEast.lon - northWest.lon) / 64, lat: (southEast.lat - northWest.lat) / 64 };
    const world = [step.lon, 0, 0, step.lat, northWest.lon + step.lon / 2, northWest.lat + step.lat / 2].join('\n');
    await press(page, 'Backdrop');
    await give(page, { name: 'air.png', buffer: twoHalves }, { name: 'air.pgw', buffer: Buffer.from(world) });
    await page.getByLabel(/^EPSG code/).fill('999999');
    await page.getByText('EPSG:999999 is not in the table').waitFor();
    await page.getByLabel(/^EPSG code/).fill('4326');
    await page.getByLabel('Whose it is').fill('Flown by nobody');
    await page.getByText(/^Read in WGS 84\. The picture covers/).waitFor();
    await press(page, 'Keep this picture');
    await press(page, 'Close');
    await page.locator('.backdrop-credit').getByText('Flown by nobody').waitFor();
    await expectGround(page, LEFT, over(RED, FIRST_OPACITY.picture, PAPER.light));
    await expectGround(page, RIGHT, over(GREEN, FIRST_OPACITY.picture, PAPER.light));

    // The same picture, an eighth of the map in from its edges, by one point typed and one tapped on the map.
    const first = await placeAt(page, [0.5, 0.5]);
    const plane = localPlane(first.lon, first.lat);
    await press(page, 'Backdrop');
    await give(page, { name: 'plan.png', buffer: twoHalves });
    const sheet = page.locator('.picture-sheet');
    const size = await sheet.boundingBox();
    if (!size) throw new Error('no picture');
    await sheet.click({ position: { x: size.width / 4, y: size.height / 4 } });
    await page.getByLabel('Coordinates').first().fill(`${first.lat}, ${first.lon}`);
    await page.getByText('Tie at least two points').waitFor();
    await page.getByRole('radio', { name: 'Point 2' }).check();
    await sheet.click({ position: { x: (size.width * 3) / 4, y: size.height / 4 } });
    await press(page, 'Tap point 2 on the map');
    await page.getByText('Tap the place of point 2 on the map.').waitFor();
    const box = await page.locator('.ground').boundingBox();
    if (!box) throw new Error('no map');
    await page.mouse.click(box.x + box.width * 0.6, box.y + box.height * 0.5);
    const second = await placeAt(page, [0.6, 0.5]);
    await page.getByText('The points fit exactly').waitFor();
    expect(await page.evaluate(() => window.hollowline?.store.get().selection)).toBeNull();
    await press(page, 'Keep this picture');
    await press(page, 'Close');
    await page.locator('.backdrop-credit').getByText('plan.png').waitFor();
    // From the quarter to the three quarters is half its side: the corners follow on squared paper.
    const [east, north] = plane.toPlane(second.lon, second.lat);
    const corner = (across: number, down: number) =>
      plane.toLonLat(2 * (across * east + down * north), 2 * (across * north - down * east));
    const wanted = [corner(-0.25, -0.25), corner(0.75, -0.25), corner(0.75, 0.75), corner(-0.25, 0.75)];
    await mapAtRest(page);
    const screenDotM = Math.hypot(east, north) / (0.1 * box.width);
    const corners = await cornersDrawn(page);
    expect(corners).toHaveLength(4);
    for (const [i, [lon, lat]] of corners.entries()) {
      const [wantedEast, wantedNorth] = plane.toPlane(wanted[i]?.lon ?? 0, wanted[i]?.lat ?? 0);
      const [gotEast, gotNorth] = plane.toPlane(lon, lat);
      // Two taps, each good to a dot of the screen, told on to the corners.
      expect(Math.hypot(gotEast - wantedEast, gotNorth - wantedNorth)).toBeLessThan(2 * screenDotM);
    }

    const wall = structuredClone(line);
    const [west, right] = [await placeAt(page, [0.1, 0.7]), await placeAt(page, [0.9, 0.7])];
    wall.features[0]?.geometry.coordinates.splice(0, 2, [west.lon, west.lat], [right.lon, right.lat]);
    await press(page, 'Backdrop');
    await give(page, { name: 'wall.geojson', buffer: Buffer.from(JSON.stringify(wall)) });
    await page.getByRole('radio', { name: /^wall\.geojson/, checked: true }).waitFor();
    await press(page, 'Close');
    await mapAtRest(page);
    const drawn = await page.evaluate(() => {
      const map = window.hollowline?.map as unknown as {
        queryRenderedFeatures(o: object): { layer: { id: string } }[];
      };
      return map.queryRenderedFeatures({ layers: ['backdrop_line'] }).length;
    });
    expect(drawn).toBeGreaterThan(0);
    await page.mouse.click(box.x + box.width * 0.12, box.y + box.height * 0.7);
    expect(await page.evaluate(() => window.hollowline?.store.get().selection)).toBeNull();
  });

  it('that cannot be kept is shown until the page is closed, and says so', async () => {
    const page = await stage.open(PHONE);
    await page.evaluate(() => {
      FileSystemFileHandle.prototype.createWritable = async () => {
        throw new DOMException('no room', 'QuotaExceededError');
      };
    });
    await press(page, 'Backdrop');
    await give(page, { name: 'hills.pmtiles', buffer: tiles });
    await page.getByText('could not be kept (the space for this page is full').waitFor();
    await press(page, 'Close');
    await expectGround(page, [0.5, 0.5], over(BLUE, FIRST_OPACITY.picture, PAPER.light));
  });
});

describe('tiles from the network', () => {
  const TILES = 'https://tiles.example/{z}/{x}/{y}.png';
  const asked = /^https:\/\/tiles\.example\/\d+\/\d+\/\d+\.png$/;

  it('are asked for on their own page alone, and refused to the page that asks no other server', async () => {
    const { page, complaints, close } = await openedPage(stage.browser, stage.served, SMALL);
    page.setDefaultTimeout(15_000);
    const requests: string[] = [];
    await page.context().route(/^https:/, (route) => {
      requests.push(route.request().url());
      return route.fulfill({
        contentType: 'image/png',
        headers: { 'access-control-allow-origin': '*' },
        body: Buffer.from(madePng(256, 256, BLUE)),
      });
    });
    const ask = () =>
      page.evaluate(
        (url) =>
          fetch(url).then(
            () => 'answered',
            () => 'refused',
          ),
        'https://tiles.example/0/0/0.png',
      );
    expect(await ask()).toBe('refused');
    expect(requests).toEqual([]);
    await expect.poll(() => complaints.join('\n')).toContain('policy: connect-src refused https://tiles.example');
    complaints.length = 0;

    await press(page, 'Backdrop');
    expect(await page.getByLabel('Address of the tiles').count()).toBe(0);
    await page.getByRole('link', { name: 'Open the page that may load tiles' }).click();
    await page.waitForURL(/\/online\.html\?inspect$/);
    await mapAtRest(page);
    await expectGround(page, LEFT, PAPER.light);
    expect(requests).toEqual([]);

    await press(page, 'Backdrop');
    await page.getByText('sees from where you ask and which ground you look at').waitFor();
    await page.getByLabel('Address of the tiles').fill(TILES.replace('https', 'http'));
    await press(page, 'Show these tiles');
    await page.getByRole('alert').getByText('begin with https://').waitFor();
    await page.getByLabel('Address of the tiles').fill(TILES);
    await press(page, 'Show these tiles');
    await page.getByRole('alert').getByText('Say whose tiles they are').waitFor();
    expect(requests).toEqual([]);
    await page.getByRole('textbox', { name: 'Whose they are (shown on the map)' }).fill('Nobody’s tiles');
    await press(page, 'Show these tiles');
    await page.getByRole('radio', { name: /^tiles\.example/, checked: true }).waitFor();
    await press(page, 'Close');
    await page.locator('.backdrop-credit').getByText('Nobody’s tiles').waitFor();
    await expectGround(page, LEFT, over(BLUE, FIRST_OPACITY.picture, PAPER.light));
    expect(requests.length).toBeGreaterThan(0);
    expect(requests.filter((url) => !asked.test(url))).toEqual([]);
    expect(complaints.filter((each) => !each.startsWith('request going out: https://tiles.example/'))).toEqual([]);

    // Back on the other page it is kept, but nothing is asked.
    complaints.length = 0;
    requests.length = 0;
    await page.goto(`${stage.served.url}?inspect`);
    await mapAtRest(page);
    await press(page, 'Backdrop');
    await page.getByText('This page asks no other server, so tiles.example is not shown.').waitFor();
    await press(page, 'Close');
    await expectGround(page, LEFT, PAPER.light);
    expect([requests, complaints]).toEqual([[], []]);
    await close();
  });
});

const keptList = (page: Page): Promise<string> =>
  page.evaluate(async () => {
    const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle('backdrops');
    return (await (await folder.getFileHandle('list.json')).getFile()).text();
  });
