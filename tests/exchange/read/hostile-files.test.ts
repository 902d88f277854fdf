import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { readColumnsMap } from '../../../src/exchange/read/columns';
import { readInventoryFile } from '../../../src/exchange/read/karst-features';
import { readSurveyFile } from '../../../src/exchange/read/survey-file';
import { readTables } from '../../../src/exchange/read/tables';

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const BOUND_MS = 3000;

/** What every reader says of a file: that it read something, or the sentences of its refusal. */
function readers(name: string, bytes: Uint8Array): readonly (readonly [string, true | readonly string[]])[] {
  const survey = readSurveyFile(bytes, name);
  const tables = readTables([{ name, bytes }], { seed: 'hostile' });
  const inventory = readInventoryFile(name, bytes);
  const columns = readColumnsMap(bytes, name);
  return [
    ['survey', survey.survey ? true : survey.notes.map(({ sentence }) => sentence)],
    ['tables', tables.survey ? true : tables.notes.map(({ sentence }) => sentence)],
    ['inventory', inventory.ok ? true : [inventory.sentence]],
    ['columns', columns.columns ? true : columns.notes.map(({ sentence }) => sentence)],
  ];
}

function refusedInTime(name: string, bytes: Uint8Array): void {
  const start = performance.now();
  for (const [reader, said] of readers(name, bytes)) {
    expect(said === true || said.some((sentence) => sentence.length > 10), `${reader} says nothing`).toBe(true);
  }
  expect(performance.now() - start).toBeLessThan(BOUND_MS);
}

describe('a file that is meant to do harm', () => {
  it('of a hundred thousand brackets is refused by every reader', () => {
    for (const open of ['[', '{"a":']) {
      refusedInTime('deep.json', utf8(open.repeat(100_000)));
      const closed = open.repeat(100_000) + (open === '[' ? ']' : '1}').repeat(100_000);
      refusedInTime('deep.geojson', utf8(closed));
    }
  });

  it('with keys of prototypes changes no prototype', () => {
    const evil = '"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}}';
    refusedInTime('a.survey.json', utf8(`{"format":"hollowline-survey","version":1,${evil}}`));
    refusedInTime('map.json', utf8(`{"files":{${evil}},${evil}}`));
    const feature = `{"type":"Feature",${evil},"properties":{${evil},"name":"x"},"geometry":{"type":"Point","coordinates":[1,2]}}`;
    const read = readInventoryFile('a.geojson', utf8(`{"type":"FeatureCollection","features":[${feature}]}`));
    expect(read.ok && read.value.features).toHaveLength(1);
    refusedInTime('readings.csv', utf8('__proto__,constructor,line\n1,2,3\n'));
    expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
    expect(([] as { polluted?: unknown }).polluted).toBeUndefined();
  });

  it('of numbers that no ground has is refused or told, and no place is made of them', () => {
    for (const number of ['1e308', '-1e308', '1e999', '5e-324', '99999999999999999999']) {
      const point = `{"type":"Point","coordinates":[${number},${number}]}`;
      const read = readInventoryFile('a.geojson', utf8(point));
      if (!read.ok) continue;
      for (const { positions } of read.value.features) {
        for (const { x, y } of positions) expect(Math.abs(x) <= 180 && Math.abs(y) <= 90, number).toBe(true);
      }
      expect(read.value.features.length + read.value.faults.length, number).toBeGreaterThan(0);
    }
  });

  /** A zip of a shapefile's parts whose directory says that the largest has so many bytes. */
  function zipThatSays(size: number): Uint8Array {
    const zip = zipSync({ 'a.shp': new Uint8Array(100_000), 'a.dbf': new Uint8Array(10), 'a.prj': new Uint8Array(10) });
    const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
    for (let at = 0; at + 46 < zip.length; at += 1) {
      const isEntry = view.getUint32(at, true) === 0x02014b50 && view.getUint32(at + 24, true) === 100_000;
      if (isEntry) view.setUint32(at + 24, size, true);
    }
    return zip;
  }

  it('that is a small zip of very much is refused before anything is unpacked', () => {
    const start = performance.now();
    expect(readInventoryFile('bomb.zip', zipThatSays(4_000_000_000))).toMatchObject({
      ok: false,
      code: 'zip_too_large',
    });
    expect(performance.now() - start).toBeLessThan(BOUND_MS);
  });

  it('that is a zip which says less or more than it holds is refused', () => {
    for (const size of [50, 99_999, 100_001, 1_000_000]) {
      expect(readInventoryFile('liar.zip', zipThatSays(size)), String(size)).toMatchObject({
        ok: false,
        code: 'not_a_zip',
      });
    }
  });

  it('whose members climb out of the zip writes nowhere: names are names', () => {
    const zip = zipSync({
      '../../../../tmp/evil.shp': utf8('x'),
      'C:\\evil.dbf': utf8('x'),
      '/etc/evil.prj': utf8('x'),
    });
    expect(readInventoryFile('climb.zip', zip).ok).toBe(false);
  });

  it('of entities that swell is refused without swelling', () => {
    const nine = Array.from({ length: 9 }, (_, i) => `<!ENTITY l${i + 1} "${`&l${i};`.repeat(10)}">`).join('');
    const swell = `<?xml version="1.0"?><!DOCTYPE kml [<!ENTITY l0 "ha">${nine}]><kml><Placemark><name>&l9;</name></Placemark></kml>`;
    for (const name of ['a.kml', 'a.gpx']) refusedInTime(name, utf8(swell));
    const outside =
      '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/passwd">]><gpx><wpt lat="1" lon="2"><name>&x;</name></wpt></gpx>';
    expect(JSON.stringify(readers('a.gpx', utf8(outside)))).not.toContain('root:');
  });
});
