import { mkdtempSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { readInventoryFile } from '../../../src/exchange/read/karst-features';
import { inflate } from '../../../src/exchange/read/karst-inflate';
import { epsgOfPrj } from '../../../src/exchange/read/karst-shapefile';
import { unzip } from '../../../src/exchange/read/karst-zip';
import { toLonLat } from '../../../src/position/crs';
import { evenNumbers } from '../../helpers/chance';

/** A shapefile in a zip as GDAL writes it: the writer that many keepers have. */
async function shapefileByGdal(geojson: object, options: readonly string[] = []): Promise<Uint8Array> {
  const initialise = (await import('gdal3.js/node.js')).default as (options: object) => Promise<{
    open(path: string): Promise<{ datasets: object[] }>;
    ogr2ogr(
      dataset: object,
      options: readonly string[],
      name?: string,
    ): Promise<{ local: string; all: { local: string }[] }>;
    getFileBytes(path: { local: string }): Promise<Uint8Array>;
  }>;
  const folder = join(dirname(createRequire(import.meta.url).resolve('gdal3.js/node.js')), 'dist/package');
  const dest = mkdtempSync(join(tmpdir(), 'gdal-'));
  const tool = await initialise({
    path: relative(process.cwd(), folder),
    dest,
    logHandler: () => {},
    errorHandler: () => {},
  });
  const path = join(mkdtempSync(join(tmpdir(), 'layer-')), 'karst.geojson');
  writeFileSync(path, JSON.stringify(geojson));
  const { datasets } = await tool.open(path);
  const made = await tool.ogr2ogr(datasets[0] as object, [
    '-f',
    'ESRI Shapefile',
    '-lco',
    'ENCODING=UTF-8',
    ...options,
  ]);
  const members = await Promise.all(
    made.all.map(async (each) => ({ name: each.local.replace(/^.*\//, ''), bytes: await tool.getFileBytes(each) })),
  );
  return zipOf(members);
}

/** A zip with deflated members (APPNOTE 6.3), packed by zlib. */
function zipOf(members: readonly { readonly name: string; readonly bytes: Uint8Array }[]): Uint8Array {
  const [parts, directory]: [Buffer[], Buffer[]] = [[], []];
  let at = 0;
  for (const { name, bytes } of members) {
    const packed = deflateRawSync(bytes);
    const shared = Buffer.alloc(26);
    shared.writeUInt16LE(20, 0);
    shared.writeUInt16LE(0x800, 2);
    shared.writeUInt16LE(8, 4);
    shared.writeUInt32LE(packed.length, 14);
    shared.writeUInt32LE(bytes.length, 18);
    shared.writeUInt16LE(Buffer.byteLength(name), 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), shared, Buffer.from(name), packed]);
    const offset = Buffer.alloc(14);
    offset.writeUInt32LE(at, 10);
    directory.push(Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), shared, offset, Buffer.from(name)]));
    parts.push(local);
    at += local.length;
  }
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(members.length, 8);
  end.writeUInt16LE(members.length, 10);
  end.writeUInt32LE(Buffer.concat(directory).length, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...parts, ...directory, end]);
}

const feature = (geometry: object, properties: object) => ({ type: 'Feature', geometry, properties });
const collection = (...features: object[]) => ({ type: 'FeatureCollection', features });
const square = (x: number, y: number, side: number): number[][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
  [x, y],
];

describe('a zipped shapefile that GDAL wrote', { timeout: 60_000 }, () => {
  it('of points has their places, names in any script, and types', async () => {
    const bytes = await shapefileByGdal(
      collection(
        feature({ type: 'Point', coordinates: [56.1, 54.7] }, { name: 'Провал', type: 'doline', depth_m: 4.5 }),
        feature({ type: 'Point', coordinates: [56.2, 54.8] }, { name: 'Höhle', type: 'spring', depth_m: null }),
      ),
    );
    const read = readInventoryFile('karst.zip', bytes);
    if (!read.ok) throw new Error(read.sentence);
    expect(read.value.features).toMatchObject([
      { name: 'Провал', type: 'sinkhole_unknown', depth_m: 4.5, positions: [{ x: 56.1, y: 54.7, crs: 'EPSG:4326' }] },
      { name: 'Höhle', type: 'spring', positions: [{ x: 56.2, y: 54.8 }] },
    ]);
    expect(read.value.features[1]?.depth_m).toBeUndefined();
    expect(read.value.faults).toEqual([]);
  });

  it('of areas in a UTM zone keeps its system, rings and holes', async () => {
    const bytes = await shapefileByGdal(
      collection(
        feature(
          { type: 'Polygon', coordinates: [square(10, 45, 0.01), [...square(10.002, 45.002, 0.002)].reverse()] },
          { type: 'doline' },
        ),
        feature(
          { type: 'MultiPolygon', coordinates: [[square(10.1, 45, 0.01)], [square(10.2, 45, 0.01)]] },
          { type: 'doline' },
        ),
      ),
      ['-t_srs', 'EPSG:32632'],
    );
    const read = readInventoryFile('karst.zip', bytes);
    if (!read.ok) throw new Error(read.sentence);
    expect(read.value.features.map(({ shape, parts }) => [shape, parts?.map(({ hole }) => hole === true)])).toEqual([
      ['area', [false, true]],
      ['area', [false, false]],
    ]);
    expect(read.value.features[0]?.positions[0]?.crs).toBe('EPSG:32632');
    const back = read.value.features[0]?.positions.map((position) => toLonLat(position, []));
    const lons = back?.map((place) => (place.ok ? place.value.lon : Number.NaN)) ?? [];
    expect(Math.min(...lons)).toBeCloseTo(10, 7);
    expect(Math.max(...lons)).toBeCloseTo(10.01, 7);
  });
});

describe('what is no whole shapefile', () => {
  it.each([
    ['GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984"]]', 'EPSG:4326'],
    ['PROJCS["WGS_1984_UTM_Zone_15N",GEOGCS["GCS_WGS_1984"]]', 'EPSG:32615'],
    ['PROJCS["NAD_1983_UTM_Zone_17N",GEOGCS["x"]]', 'EPSG:26917'],
    ['PROJCS["ETRS89 / UTM zone 33N",GEOGCS["x",AUTHORITY["EPSG","4258"]],AUTHORITY["EPSG","25833"]]', 'EPSG:25833'],
    ['PROJCS["NAD27 / Somewhere",GEOGCS["NAD27",AUTHORITY["EPSG","4267"]],UNIT["x",1]]', null],
  ])('the .prj %s is of %s', (prj, code) => {
    expect(epsgOfPrj(prj)).toBe(code);
  });

  it('is refused with a sentence: broken off, without a .prj, two in one zip', () => {
    const shp = new Uint8Array(100);
    new DataView(shp.buffer).setInt32(0, 9994);
    const code = (...names: string[]) => {
      const read = readInventoryFile('a.zip', zipOf(names.map((name) => ({ name, bytes: shp }))));
      return read.ok ? 'read' : read.code;
    };
    expect(code('a.shp')).toBe('no_crs');
    expect(code('a.shp', 'b.shp')).toBe('many_shapefiles');
    expect(code('a.txt')).toBe('no_shapefile');
    expect(readInventoryFile('a.zip', zipOf([{ name: 'a.shp', bytes: shp }]).slice(0, 60)).ok).toBe(false);
  });
});

describe('unpacking', () => {
  it('gives back what zlib packed, at every level and of every kind of block', () => {
    const next = evenNumbers(4);
    for (const size of [0, 1, 100, 70_000]) {
      for (const letters of [1, 4, 256]) {
        const bytes = Uint8Array.from({ length: size }, () => Math.floor(next() * letters));
        for (const level of [0, 1, 9]) expect(inflate(deflateRawSync(bytes, { level }), size)).toEqual(bytes);
      }
    }
  });

  it('refuses broken data and data of another size, and never runs on', () => {
    const packed = deflateRawSync(Buffer.alloc(100_000));
    expect(inflate(packed, 99_999)).toBeNull();
    expect(inflate(packed.subarray(0, packed.length - 3), 100_000)).toBeNull();
    const next = evenNumbers(9);
    for (let i = 0; i < 500; i += 1) {
      const noise = Uint8Array.from({ length: 60 }, () => Math.floor(next() * 256));
      expect([null, 60]).toContain(inflate(noise, 60)?.length ?? null);
    }
    expect(unzip(new Uint8Array(30), () => true).ok).toBe(false);
  });
});
