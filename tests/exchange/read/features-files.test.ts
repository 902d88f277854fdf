import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type InventoryColumns, readInventoryColumns } from '../../../src/exchange/read/karst-columns';
import { saidAngle, saidPlace } from '../../../src/exchange/read/karst-dms';
import { readInventoryFile } from '../../../src/exchange/read/karst-features';
import { utf8 } from './helpers';

function inventory(name: string, text: string, columns?: InventoryColumns) {
  const read = readInventoryFile(name, utf8(text), columns);
  if (!read.ok) throw new Error(read.sentence);
  return read.value;
}
const geojson = (...features: readonly (readonly [geometry: object | null, properties?: object])[]): string =>
  JSON.stringify({
    type: 'FeatureCollection',
    features: features.map(([geometry, properties = { type: 'doline' }]) => ({
      type: 'Feature',
      geometry,
      properties,
    })),
  });
const codes = ({ faults }: ReturnType<typeof inventory>) => faults.map(({ code }) => code);

describe('tables of features', () => {
  it('are read by the headers that people use, and keep what is not understood', () => {
    const { features, columns, faults } = inventory(
      'caves.csv',
      'RELATEID;Feature Type;Longitude;Latitude;Depth;Azimuth;Survey party\n7;ponor;14,2;45,7;12 ft;225;Ada & Ben\n',
    );
    expect(faults).toEqual([]);
    expect(columns.find(({ header }) => header === 'Survey party')?.field).toBeNull();
    expect(features).toMatchObject([
      {
        type: 'swallow_hole',
        external_id: '7',
        source: 'caves',
        long_axis_deg: 45,
        positions: [{ x: 14.2, y: 45.7, crs: 'EPSG:4326' }],
        as_read: { 'Survey party': 'Ada & Ben' },
      },
    ]);
    expect(features[0]?.depth_m).toBeCloseTo(3.6576, 10);
  });

  it('have a map where their headers and words are foreign', () => {
    const map = readInventoryColumns({
      files: {
        'list.csv': {
          columns: { kode: 'external_id', soort: 'type', r: 'easting', h: 'northing' },
          values: { type: { bron: 'spring', kerk: null } },
          constants: { source: 'Register', accuracy_m: 25 },
          crs: 'EPSG:32632',
        },
      },
    });
    if (!map.ok) throw new Error(map.sentence);
    const read = inventory(
      'List.csv',
      'kode,soort,r,h\n1,bron,578815.3,4983436.8\n2,kerk,578815.3,4983436.8\n',
      map.value,
    );
    expect(read).toMatchObject({ rows: 2, unwanted: 1, faults: [] });
    expect(read.features).toMatchObject([
      { type: 'spring', source: 'Register', positions: [{ crs: 'EPSG:32632', accuracy_m: 25, accuracy_level: 95 }] },
    ]);
  });

  it('refuse a map that names no field of ours', () => {
    const map = readInventoryColumns({ files: { a: { columns: { x: 'altitude_of_moon' } } } });
    expect(map.ok ? null : map.code).toBe('unknown_field');
  });

  it('name every row that has no place on the Earth, and drop none in silence', () => {
    const read = inventory(
      'a.csv',
      'name,type,lon,lat\nok,spring,10,45\nswapped,spring,45,134\nfar,spring,400,45\nnull,spring,0,0\nblank,spring,,\nword,spring,east,45\n',
    );
    expect(read.faults.map(({ code, row, leftOut }) => [code, row, leftOut])).toEqual([
      ['probable_lon_lat_swap', 3, true],
      ['impossible_coordinates', 4, true],
      ['no_place', 5, true],
      ['no_place', 6, true],
      ['impossible_coordinates', 7, true],
    ]);
    expect(read.features).toHaveLength(1);
    expect(read.rows).toBe(read.features.length + read.faults.filter(({ leftOut }) => leftOut).length);
  });

  it('read twice have the same ids, and rows that are the same have ids of their own', () => {
    const text = 'type,lon,lat\nspring,10,45\nspring,10,45\n';
    const [first, again] = [inventory('a.csv', text), inventory('a.csv', text)];
    expect(again.features).toEqual(first.features);
    expect(new Set(first.features.map(({ id }) => id)).size).toBe(2);
  });

  it('say of unknown words that they are unknown', () => {
    const { types, features } = inventory('a.csv', 'type,lon,lat\nChurch,10,45\nDoline of the mill,10,46\n');
    expect(types).toMatchObject([
      { word: 'Church', type: null, by: 'none' },
      { word: 'Doline …', type: 'sinkhole_unknown', by: 'beginning' },
    ]);
    expect(features[0]?.type).toBe('Church');
  });
});

describe('GeoJSON of features', () => {
  it('keeps lines and areas with their parts, and makes a feature of each point of many', () => {
    const ring = [
      [10, 45],
      [11, 45],
      [11, 46],
      [10, 45],
    ];
    const { features, rows } = inventory(
      'a.geojson',
      geojson(
        [
          {
            type: 'MultiPoint',
            coordinates: [
              [10, 45],
              [10.1, 45],
              [10.2, 45],
            ],
          },
        ],
        [{ type: 'MultiPolygon', coordinates: [[ring], [ring]] }],
        [
          {
            type: 'MultiLineString',
            coordinates: [
              [
                [10, 45],
                [11, 45],
              ],
              [
                [12, 45],
                [13, 45],
              ],
            ],
          },
        ],
        [{ type: 'GeometryCollection', geometries: [{ type: 'Point', coordinates: [1, 2] }] }],
      ),
    );
    expect(features.map(({ shape }) => shape)).toEqual(['point', 'point', 'point', 'area', 'line', 'point']);
    expect(features[3]?.parts).toEqual([{ from: 0 }, { from: 4 }]);
    expect(rows).toBe(4);
  });

  it.each([
    [{ type: 'Point', coordinates: ['10', '45'] }, 'bad_geometry'],
    [{ type: 'Point', coordinates: [10, 45, 'f'] }, 'bad_geometry'],
    [{ type: 'LineString', coordinates: [[10, 45]] }, 'bad_geometry'],
    [
      {
        type: 'Polygon',
        coordinates: [
          [
            [10, 45],
            [11, 45],
            [10, 45],
          ],
        ],
      },
      'bad_geometry',
    ],
    [{ type: 'Polygon', coordinates: [] }, 'bad_geometry'],
    [{ type: 'Circle', coordinates: [10, 45] }, 'bad_geometry'],
    [{ type: 'MultiPoint', coordinates: [] }, 'bad_geometry'],
    [null, 'no_place'],
    [{ type: 'Point', coordinates: [10, 195] }, 'impossible_coordinates'],
  ])('with %j is told and left out', (geometry, code) => {
    const read = inventory('a.geojson', geojson([geometry]));
    expect(codes(read).filter((each) => each === code)).toHaveLength(1);
    expect(read.features).toEqual([]);
  });

  it('is refused with a sentence where it is none', () => {
    for (const text of ['{', '[]', '{"type":"FeatureCollection"}', '{"a":1}']) {
      expect(readInventoryFile('a.geojson', utf8(text)).ok).toBe(false);
    }
  });
});

describe('KML and GPX of features', () => {
  it('give points, lines and areas', () => {
    const kml =
      '<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>P</name><ExtendedData><Data name="type"><value>shaft</value></Data></ExtendedData><Point><coordinates>10,45</coordinates></Point></Placemark><Placemark><Polygon><outerBoundaryIs><LinearRing><coordinates>10,45 11,45 11,46 10,45</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>';
    expect(inventory('a.kml', kml).features).toMatchObject([
      { name: 'P', type: 'shaft', shape: 'point' },
      { shape: 'area' },
    ]);
    const gpx = '<gpx version="1.1"><wpt lat="45" lon="10"><name>W</name><type>spring</type></wpt></gpx>';
    expect(inventory('a.gpx', gpx).features).toMatchObject([{ name: 'W', type: 'spring' }]);
  });
});

describe('places said twice', () => {
  it.each([
    ['381259N', 38 + 12 / 60 + 59 / 3600, null],
    ['0794025W', -(79 + 40 / 60 + 25 / 3600), null],
    ['54°68\'09" СШ', 54 + 68 / 60 + 9 / 3600, '68 minutes'],
    ['555°52\'01" СШ', 555 + 52 / 60 + 1 / 3600, '555 degrees'],
    ['56°1′29″ВД', 56 + 1 / 60 + 29 / 3600, null],
    ["55 ° 30,5' E", 55 + 30.5 / 60, null],
  ])('%s is read piece by piece', (text, deg, impossible) => {
    const angle = saidAngle(text);
    expect(angle?.deg).toBeCloseTo(deg, 10);
    expect(angle?.impossible).toBe(impossible);
  });

  it('are found in a description, and azimuths are none', () => {
    const text = 'с. Кигазы, 4,2 км по аз. 345° от угла. КООРДИНАТЫ: 56°04\'10" СШ, 56°20\'30" ВД.';
    expect(saidPlace(text)?.lat.deg).toBeCloseTo(56.069444, 6);
    expect(saidPlace('along 345° from the corner, then 20° more')).toBeNull();
  });

  it('agree within their digits or are told with their distance', () => {
    const row = (dms: string) => `name,type,lat,lon,lat_dms,long_dms\na,spring,45.500000,10.500000,${dms}\n`;
    expect(codes(inventory('a.csv', row('453000N,0103000E')))).toEqual([]);
    const [far] = inventory('a.csv', row('453100N,0103000E')).faults;
    expect(far?.code).toBe('place_said_twice_differs');
    // A minute of the meridian at 45.5° N: 1852.4 m (geographiclib).
    expect(far?.distanceM).toBeCloseTo(1852.4, 0);
    expect(codes(inventory('a.csv', row('456100N,0103000E')))).toEqual(['impossible_dms']);
  });

  it('in two datums all through are told once for the file', () => {
    const rows = Array.from({ length: 8 }, (_, i) => {
      const lat = 45 + i / 100;
      const shifted = (lat - 0.0005) * 3600;
      const dms = `${Math.floor(shifted / 3600)}°${Math.floor((shifted % 3600) / 60)}'${(shifted % 60).toFixed(2)}"`;
      return `p${i},spring,${lat.toFixed(6)},10.500000,"${dms} N, 10°30'00.00"" E"`;
    });
    const read = inventory('a.csv', `name,type,lat,lon,coordinates\n${rows.join('\n')}\n`);
    expect(codes(read).filter((code) => code === 'datum_shift_suspected')).toHaveLength(1);
  });
});

/*
 * Facts of two public inventories, found by reading them with a script of its own (Python, not this program):
 * the collapse inventory of Bashkortostan (A. I. Smirnov, Institute of Geology UFRC RAS; Ufa Karst Sinkhole Map, CC BY 4.0),
 * every second feature, and two counties of the USGS Geographic Names Information System (public domain).
 */
const REAL = resolve(import.meta.dirname, '../../../../shared/real-data');

describe.runIf(existsSync(REAL))('the errors of real inventories', () => {
  const real = (path: string) => {
    const read = readInventoryFile(path, readFileSync(join(REAL, path)));
    if (!read.ok) throw new Error(read.sentence);
    return read.value;
  };

  it('of Bashkortostan are found by number, with their distance', () => {
    const read = real('ufa-sinkholes/karst_sinkholes.every2nd.geojson');
    expect([read.rows, read.features.length]).toEqual([101, 101]);
    const rowsOf = (code: string) => read.faults.filter((each) => each.code === code).map(({ row }) => row);
    expect(rowsOf('impossible_dms')).toEqual([16, 22, 80]);
    expect(rowsOf('lon_equals_lat')).toEqual([16]);
    // Those that the script found more than 20 m apart; 77 and 78 are 9 m and 3 m apart with hundredths of a second.
    expect(rowsOf('place_said_twice_differs')).toEqual([50, 52, 77, 78, 84, 85, 92, 93, 97, 100]);
    const far = read.faults.find(({ row, code }) => row === 50 && code === 'place_said_twice_differs');
    expect((far?.distanceM ?? 0) / 1000).toBeCloseTo(125.4, -1);
    expect(far?.sentence).toContain('the same figures');
  });

  it('of Bashkortostan’s areas: each of 1957 points of the MultiPoint is a feature', () => {
    const read = real('ufa-sinkholes/karst_areas.subset.geojson');
    expect([read.rows, read.features.length]).toEqual([60, 59 + 1957]);
  });

  /** What each geometry of a file ought to become: a feature of its own, counted by a walk that knows nothing of the reader. */
  function countOf(json: unknown): number {
    const { type, features, geometry, geometries, coordinates } = json as Record<string, unknown>;
    const sum = (list: unknown): number =>
      (list as unknown[]).reduce((total: number, each) => total + countOf(each), 0);
    if (type === 'FeatureCollection') return sum(features);
    if (type === 'Feature') return geometry === null ? 0 : countOf(geometry);
    if (type === 'GeometryCollection') return sum(geometries);
    return type === 'MultiPoint' ? (coordinates as unknown[]).length : 1;
  }
  /** Faults of a file that change nothing of what it says of the ground, and why. */
  const HARMLESS: Readonly<Record<string, string>> = {
    'bad-polygon-interiorring-rhr': 'rings are wound aright when they are written',
    polygon_winding_order: 'rings are wound aright when they are written',
    'badfeature-no-properties': 'a feature without properties is a feature',
    'bad-properties-as-array': 'no property is taken from a list',
    badfeatureid: 'an id that is an object is none',
    'bbox-4or6elements': 'the bounds are not read',
    'bbox-contains-string': 'the bounds are not read',
    'bbox-string': 'the bounds are not read',
    'bad-bbox': 'the bounds are not read',
    'different-first-size': 'the first place is the last, with or without a height',
    excessive_precision_truncated: 'digits beyond a hair’s breadth do no harm',
    feature_changed_semantics: 'members that do not belong there are not read',
    featurecollection_changed_semantics: 'members that do not belong there are not read',
    geometry_changed_semantics: 'members that do not belong there are not read',
    geometrycollection_nested: 'collections in collections are read',
    geometrycollection_single: 'a collection of one is read',
  };
  const suite = (folder: string): readonly (readonly [name: string, file: string])[] =>
    readdirSync(join(REAL, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.(geo)?json$/.test(name))
      .map((name) => [basename(name).replace(/\.(geo)?json$/, ''), join(REAL, folder, name)]);

  it('of the suites of good GeoJSON: none, and each geometry is a feature', () => {
    const good = [...suite('geojson-validity-hint/good'), ...suite('geojson-schema/valid')];
    expect(good.length).toBeGreaterThan(45);
    for (const [name, file] of good) {
      // A polygon without a ring keeps the schema and is nowhere.
      if (name === 'empty-polygon') continue;
      const text = readFileSync(file, 'utf8');
      const read = readInventoryFile(file, new TextEncoder().encode(text));
      if (!read.ok) throw new Error(`${name}: ${read.sentence}`);
      const expected = countOf(JSON.parse(text));
      const { features, faults } = read.value;
      const left = faults.filter(({ leftOut }) => leftOut).length;
      expect([name, features.length + left], name).toEqual([name, Math.max(expected, left)]);
      expect(
        faults.filter(({ code }) => code === 'bad_geometry').map(({ sentence }) => `${name}: ${sentence}`),
      ).toEqual([]);
    }
  });

  it('of a polygon without a ring are told', () => {
    const [, file] = suite('geojson-schema/valid').find(([name]) => name === 'empty-polygon') as readonly [
      string,
      string,
    ];
    const read = readInventoryFile(file, readFileSync(file));
    expect(read.ok && read.value.faults.map(({ leftOut }) => leftOut)).toEqual([true]);
  });

  it('of the suites of bad GeoJSON are refused or told with a sentence, but for those that do no harm', () => {
    const bad = [
      ...suite('geojson-validity-hint/bad'),
      ...suite('geojson-validity-check/bad'),
      ...suite('geojson-schema/invalid'),
    ];
    expect(bad.length).toBeGreaterThan(60);
    const silent = bad.filter(([, file]) => {
      const read = readInventoryFile(file, readFileSync(file));
      const told = read.ok ? read.value.faults.map(({ sentence }) => sentence) : [read.sentence];
      return !told.some((sentence) => sentence.length > 20);
    });
    const names = silent.map(([, file]) => file).filter((file) => !(basename(file).replace(/\.\w+$/, '') in HARMLESS));
    expect(names).toEqual([]);
  });

  it.each([
    ['VA_Bath.txt', 520],
    ['VA_Highland.txt', 289],
  ])('of %s are two datums: the packed angles lie 14 m south of the decimals', (file, rows) => {
    const read = real(`usgs-gnis/${file}`);
    expect([read.rows, read.features.length]).toEqual([rows, rows]);
    expect(codes(read)).toEqual(['datum_shift_suspected']);
    // The script: the decimals are 0.45″ of latitude farther north, in every row but one.
    expect(read.faults[0]?.sentence).toContain('-14 m north');
  });
});
