import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { isPlainPlaces } from '../../../src/exchange/read/places-table';
import { readTables } from '../../../src/exchange/read/tables';
import { lineNamed, survey, utf8 } from './helpers';
import { placesOf } from './places-read';

/*
 * What becomes of each kind of file that devices and maps write. The files below are made up for this table; when the
 * folder of real files lies beside the checkout, each of those is read too.
 */

const gpx = (body: string) => `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">${body}</gpx>`;
const kml = (body: string) =>
  `<kml xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2">${body}</kml>`;
const TRACK = '<trk><trkseg><trkpt lat="1" lon="2"/><trkpt lat="1.001" lon="2"/></trkseg></trk>';
const WHOLE = gpx(`${TRACK}<wpt lat="1" lon="2"><name>a</name></wpt>`);
const utf16 = (text: string, littleEndian: boolean): Uint8Array => {
  const bytes = new Uint8Array(text.length * 2);
  for (let i = 0; i < text.length; i += 1) {
    new DataView(bytes.buffer).setUint16(i * 2, text.charCodeAt(i), littleEndian);
  }
  return bytes;
};

type Outcome = readonly [lines: number, points: number, said: readonly string[]] | 'refused';

/** kind, file name, content, what becomes of it: lines, points, a word of each note; or that it is refused. */
const KINDS: readonly (readonly [string, string, string | Uint8Array, Outcome])[] = [
  ['GPX 1.1', 'a.gpx', WHOLE, [1, 1, []]],
  ['GPX 1.0', 'a.gpx', WHOLE.replace('1/1', '1/0').replace('1.1', '1.0'), [1, 1, []]],
  ['GPX without a namespace', 'a.gpx', WHOLE.replace(/ xmlns="[^"]*"/, ''), [1, 1, []]],
  ['GPX behind a prefix', 'a.gpx', '<g:gpx xmlns:g="u"><g:wpt lat="1" lon="2"/></g:gpx>', [0, 1, []]],
  ['GPX with a byte order mark', 'a.gpx', `\ufeff${WHOLE}`, [1, 1, []]],
  ['GPX in UTF-16, little end first', 'a.gpx', utf16(`\ufeff${WHOLE}`, true), [1, 1, []]],
  ['GPX in UTF-16, big end first', 'a.gpx', utf16(`\ufeff${WHOLE}`, false), [1, 1, []]],
  ['GPX in small numbers with exponents', 'a.gpx', gpx('<wpt lat="1e-7" lon="-2.5E-8"/>'), [0, 1, []]],
  [
    'an extension without its prefix declared',
    'a.gpx',
    gpx('<wpt lat="1" lon="2"><extensions><q:x>1</q:x></extensions></wpt>'),
    [0, 1, ['declaring']],
  ],
  ['an empty segment', 'a.gpx', gpx(`${TRACK}<trk><trkseg/></trk>`), [1, 0, ['no points']]],
  [
    'a track without segments',
    'a.gpx',
    gpx('<trk><name>T</name></trk>'),
    [0, 0, ['no points', 'no points and no lines']],
  ],
  [
    'a track of one point',
    'a.gpx',
    gpx('<trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk>'),
    [0, 1, ['only one place']],
  ],
  [
    'marks of a pause in a track',
    'a.gpx',
    gpx(TRACK.replace('</trkseg>', '<trkpt lat="100" lon="0"/></trkseg>')),
    [1, 0, ['pause']],
  ],
  ['an empty GPX', 'a.gpx', gpx(''), [0, 0, ['no points and no lines']]],
  ['GPX with a decimal comma', 'a.gpx', gpx('<wpt lat="47,1" lon="2"/>'), 'refused'],
  ['GPX without a latitude', 'a.gpx', gpx('<wpt lon="2"/>'), 'refused'],
  ['GPX off the Earth', 'a.gpx', gpx('<wpt lat="95" lon="2"/>'), 'refused'],
  ['GPX that breaks off', 'a.gpx', WHOLE.slice(0, -10), 'refused'],
  ['GPX with a document type', 'a.gpx', `<!DOCTYPE gpx>${WHOLE}`, 'refused'],
  ['XML of another kind', 'a.gpx', '<rss/>', 'refused'],
  ['no XML at all', 'a.kml', 'PK and more', 'refused'],
  ['a KML point', 'a.kml', kml('<Placemark><Point><coordinates>2,1</coordinates></Point></Placemark>'), [0, 1, []]],
  [
    'a KML area',
    'a.kml',
    kml(
      '<Placemark><Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,0 1,1 0,0</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>',
    ),
    [1, 0, []],
  ],
  [
    'a KML placemark without a place',
    'a.kml',
    kml('<Placemark><name>P</name></Placemark>'),
    [0, 0, ['no place', 'no points and no lines']],
  ],
  [
    'empty KML coordinates',
    'a.kml',
    kml('<Placemark><Point><coordinates> </coordinates></Point></Placemark>'),
    [0, 0, ['no coordinates', 'no points and no lines']],
  ],
  [
    'spaces behind the commas of KML',
    'a.kml',
    kml('<Placemark><Point><coordinates>2, 1, 5</coordinates></Point></Placemark>'),
    [0, 1, ['spaces']],
  ],
  [
    'a fourth number of KML',
    'a.kml',
    kml('<Placemark><Point><coordinates>2,1,5,20</coordinates></Point></Placemark>'),
    [0, 1, ['fourth number']],
  ],
  ['a picture on the ground', 'a.kml', kml('<GroundOverlay/>'), [0, 0, ['picture', 'no points and no lines']]],
  ['a link to another file', 'a.kml', kml('<NetworkLink/>'), [0, 0, ['link', 'no points and no lines']]],
  [
    'a KML track with blank entries',
    'a.kml',
    kml(
      '<Placemark><gx:Track><when>2025-06-03T09:00Z</when><when>2025-06-03T09:00Z</when><gx:coord/><gx:coord>2 1 0</gx:coord></gx:Track></Placemark>',
    ),
    [0, 1, ['no place', 'only one place']],
  ],
  [
    'a KML track with other numbers of times',
    'a.kml',
    kml(
      '<Placemark><gx:Track><when>2025-06-03T09:00Z</when><gx:coord>2 1 0</gx:coord><gx:coord>3 1 0</gx:coord></gx:Track></Placemark>',
    ),
    [1, 0, ['1 times for 2']],
  ],
  [
    'KML with words for numbers',
    'a.kml',
    kml('<Placemark><Point><coordinates>no,no</coordinates></Point></Placemark>'),
    'refused',
  ],
  [
    'a GeoJSON feature without a place',
    'a.geojson',
    '{"type":"Feature","properties":{},"geometry":null}',
    [0, 0, ['no place', 'no points and no lines']],
  ],
  [
    'GeoJSON that names WGS84',
    'a.geojson',
    '{"type":"Point","coordinates":[2,1],"crs":{"type":"name","properties":{"name":"WGS84"}}}',
    [0, 1, []],
  ],
  ['GeoJSON that breaks off', 'a.geojson', '{"type":"Point","coordinates":[2,1]', 'refused'],
  ['GeoJSON with a bare NaN', 'a.geojson', '{"type":"Point","coordinates":[NaN,1]}', 'refused'],
  ['a table of names and degrees', 'a.csv', 'lat,lng,name\n1,2,A\n', [0, 1, []]],
  ['a table parted by bars', 'a.dsv', 'lat|lon|name\n1|2|A\n', [0, 1, []]],
  ['a table with spaces in its headers', 'a.tsv', ' lat\t lon\t name\n1\t2\tA\n', [0, 1, []]],
  ['a table in degrees and minutes', 'a.csv', 'lat,lon,name\n40° 11′,40° 11\' 15",A\n', [0, 1, []]],
  ['a table with a row without a place', 'a.csv', 'lat,lon,name\n1,2,A\n,,B\n', [0, 1, ['1 of its 2 rows']]],
  ['a table with a word for a number', 'a.csv', 'lat,lon,name\nfoo,2,A\n', 'refused'],
];

describe('each kind of file', () => {
  it.each(KINDS)('%s', (_, name, content, outcome) => {
    const { places, faults, notes } = placesOf(name, typeof content === 'string' ? utf8(content) : content);
    if (outcome === 'refused') {
      expect(faults.length).toBeGreaterThan(0);
      for (const { sentence } of faults) expect(sentence).toMatch(/^\S.*\.$/);
      return;
    }
    const [lines, points, said] = outcome;
    expect(faults).toEqual([]);
    expect([places?.lines.length, places?.points.length]).toEqual([lines, points]);
    expect(notes).toHaveLength(said.length);
    said.forEach((word, i) => {
      expect(notes[i]?.sentence).toContain(word);
    });
  });
});

const REAL = resolve(import.meta.dirname, '../../../../shared/real-data');
const isThere = existsSync(REAL);
const told = isThere ? '' : ' (not run: there is no ../shared/real-data beside the checkout)';
const filesIn = (folder: string, ending: RegExp): readonly string[] =>
  isThere && existsSync(join(REAL, folder))
    ? readdirSync(join(REAL, folder))
        .filter((name) => ending.test(name))
        .map((name) => join(folder, name))
    : [];
const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(join(REAL, path)));

/** Coordinates in a text, counted without any parser of ours. */
function coordinatesIn(text: string): number {
  const plain = text.replace(/<!--[\s\S]*?-->/g, '');
  const gpxPoints = plain.match(/<(?:\w+:)?(?:wpt|rtept|trkpt)[\s/>]/g)?.length ?? 0;
  const tuples = [...plain.matchAll(/<(?:\w+:)?coordinates>([^<]*)</g)].flatMap(
    ([, inside = '']) => inside.match(/\S+/g) ?? [],
  );
  const coords = [...plain.matchAll(/<gx:coord>\s*[^<\s]/g)];
  return gpxPoints + tuples.length + coords.length;
}

/** The same for GeoJSON: every innermost list of numbers below "coordinates". */
function positionsIn(value: unknown): number {
  if (Array.isArray(value)) {
    return value.every((each) => !Array.isArray(each) && (typeof each !== 'object' || each === null))
      ? Number(value.length > 0)
      : value.reduce((sum: number, each) => sum + positionsIn(each), 0);
  }
  if (typeof value !== 'object' || value === null) return 0;
  return Object.entries(value).reduce((sum, [key, each]) => {
    const isWay = ['coordinates', 'features', 'geometry', 'geometries'].includes(key);
    return sum + (isWay ? positionsIn(each) : 0);
  }, 0);
}

describe.runIf(isThere)(`real files of devices and maps${told}`, () => {
  const XML = [
    ...['gpx-gpxpy', 'phone-opentracks', 'togeojson-placemark', 'togeojson-mapbox', 'xochimilco-lines'].flatMap(
      (folder) => filesIn(folder, /\.(?:gpx|kml)$/),
    ),
  ];
  const JSON_FILES = ['togeojson-mapbox', 'csv-coordinates'].flatMap((folder) => filesIn(folder, /\.geojson$/));
  const TABLES = ['csv-coordinates', 'phone-opentracks'].flatMap((folder) => filesIn(folder, /\.(?:csv|tsv|dsv)$/));

  it('are all there', () => {
    expect([XML.length > 80, JSON_FILES.length > 30, TABLES.length > 9]).toEqual([true, true, true]);
  });

  it.each(XML)('%s is read whole, or what is left out is told', (path) => {
    const { places, notes, faults, taken } = placesOf(path, bytesOf(path));
    const inFile = coordinatesIn(new TextDecoder().decode(bytesOf(path)));
    if (places === null) return expect(faults).toHaveLength(1);
    expect(taken + places.leftOut).toBe(inFile);
    if (places.leftOut > 0) expect(notes.length).toBeGreaterThan(0);
    if (taken === 0) expect(notes.length).toBeGreaterThan(0);
  });

  it.each(JSON_FILES)('%s is read whole, or what is left out is told', (path) => {
    const { places, notes, faults, taken } = placesOf(path, bytesOf(path));
    if (places === null) return expect(faults).toHaveLength(1);
    expect(taken + places.leftOut).toBe(positionsIn(JSON.parse(new TextDecoder().decode(bytesOf(path)))));
    if (taken === 0) expect(notes.length).toBeGreaterThan(0);
  });

  it.each(TABLES)('%s is read a row a point, or refused', (path) => {
    const bytes = bytesOf(path);
    const { places, notes, faults, taken } = placesOf(path, bytes);
    if (places === null) {
      const { survey: none, notes: said } = readTables([{ name: path, bytes }], { seed: 'test' });
      expect(isPlainPlaces(bytes, path)).toBe(false);
      expect([none, said.some(({ kind }) => kind === 'fault')]).toEqual([null, true]);
      return;
    }
    const rows = new TextDecoder().decode(bytes).trim().split('\n').length - 1;
    expect(taken + places.leftOut).toBe(rows);
    if (places.leftOut > 0) expect(notes.length + faults.length).toBeGreaterThan(0);
  });

  it.each([...XML, ...JSON_FILES, ...TABLES])('%s becomes a survey, or says in a sentence why not', (path) => {
    const { survey: made, notes } = readTables([{ name: path, bytes: bytesOf(path) }], { seed: 'test' });
    const faults = notes.filter(({ kind }) => kind === 'fault');
    expect(made === null).toBe(faults.length > 0);
    for (const { sentence } of faults) expect(sentence).toMatch(/^\S[\s\S]*\.$/);
  });

  // The expected conversions of a general-purpose converter, which come with its files (BSD-2-Clause).
  it.each(filesIn('togeojson-mapbox', /\.(?:gpx|kml)$/).filter((path) => existsSync(join(REAL, `${path}.geojson`))))(
    '%s has the places that the converter it comes from expects',
    (path) => {
      const own = placesOf(path, bytesOf(path)).places;
      const expected = JSON.parse(readFileSync(join(REAL, `${path}.geojson`), 'utf8'));
      const theirs = new Set<string>();
      const collect = (value: unknown): void => {
        if (!Array.isArray(value)) return;
        if (typeof value[0] === 'number') theirs.add(`${value[0]},${value[1]}`);
        else for (const each of value) collect(each);
      };
      const walk = (geometry: { coordinates?: unknown; geometries?: readonly object[] } | null): void => {
        collect(geometry?.coordinates);
        for (const each of geometry?.geometries ?? []) walk(each);
      };
      for (const { geometry } of expected.features) walk(geometry);
      const ours = new Set(
        [...(own?.points ?? []), ...(own?.lines ?? []).flatMap(({ vertices }) => vertices)].map(
          ({ lonLat }) => `${lonLat.lon},${lonLat.lat}`,
        ),
      );
      // Where it drops a track of one point, or a hole was left out here, the sets may differ by those.
      const missing = [...theirs].filter((place) => !ours.has(place));
      expect(missing.length).toBeLessThanOrEqual(own?.leftOut ?? 0);
      const surplus = [...ours].filter((place) => !theirs.has(place));
      const single = placesOf(path, bytesOf(path)).notes.filter(({ read }) => read === 'one place').length;
      expect(surplus.length).toBeLessThanOrEqual(single);
    },
  );

  it('of ten lines as a table and as a map give the same lines to the last digit', () => {
    const folder = 'xochimilco-lines';
    const columns = {
      table: 'positions' as const,
      columns: {
        'Line ID': 'line',
        'Lon. 1st electrode': 'first_lon',
        'Lat. 1st electrode': 'first_lat',
        'Lon. last electrode': 'last_lon',
        'Lat. last electrode': 'last_lat',
        'Lon. infty': 'remote_lon',
        'Lat. infty': 'remote_lat',
      },
      constants: { step_m: 5 },
    };
    const name = 'ERT2017_L1-10.txt';
    const table = survey({ [name]: bytesOf(join(folder, name)) }, { columns: { files: { [name]: columns } } });
    const map = survey(
      { 'ERT2017.kml': bytesOf(join(folder, 'ERT2017.kml')) },
      { columns: { files: {}, places: { 'ERT2017.kml': { step_m: 5 } } } },
    );
    expect(table.lines).toHaveLength(10);
    for (const line of table.lines) {
      const drawn = lineNamed(map, line.name.replace('L', 'L-'));
      expect(drawn.layout).toEqual(line.layout);
      const fixes = line.path.map((item) =>
        item.kind === 'fix' ? [item.chainage_m, item.position.x, item.position.y] : [],
      );
      expect(
        drawn.path.map((item) => (item.kind === 'fix' ? [item.chainage_m, item.position.x, item.position.y] : [])),
      ).toEqual(fixes);
      const remote = (from: typeof table, outing: string) => {
        const found = from.outings.find((each) => each.name === outing)?.remotes[0];
        return [found?.role, found?.position.x, found?.position.y];
      };
      expect(remote(map, drawn.name)).toEqual(remote(table, line.name));
    }
  });
});
