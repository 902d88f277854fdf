import { describe, expect, it } from 'vitest';
import { datumMixed } from '../../src/evidence/doubts/datum-mixed';
import type { DoubtContext } from '../../src/evidence/doubts/doubt-context';
import { crsOf } from '../../src/position/crs';
import { datumOf } from '../../src/position/datum';
import { madeLine } from '../helpers/made-survey';

const at = [
  { lon: 10.1, lat: 47.2 },
  { lon: 10.1005, lat: 47.2 },
] as const;

/** A line of two points, each entered in a system of its own. */
function doubtsFor(...codes: readonly [string, string]) {
  const line = madeLine(
    'A',
    at.map((place, i) => ({ chainageM: 40 * i, ...place })),
  );
  const path = line.path.map((item, i) => {
    const crs = crsOf(codes[i] as string);
    if (!crs.ok || item.kind !== 'fix') throw new Error('no such system');
    const { lon, lat } = at[i] as (typeof at)[number];
    const [x, y] = crs.value.fromLonLat(lon, lat);
    return { ...item, position: { ...item.position, x, y, crs: codes[i] as string } };
  });
  return datumMixed({ line: { ...line, path } } as unknown as DoubtContext);
}

describe('datum_mixed', () => {
  it('is raised where points of one line stand on two datums', () => {
    const [doubt] = doubtsFor('EPSG:4326', 'EPSG:31254');
    expect(doubt).toMatchObject({ code: 'datum_mixed', severity: 'warning' });
    expect(doubt?.sentence).toContain('WGS 84, MGI');
    expect(doubtsFor('EPSG:32632', 'EPSG:25832')[0]).toMatchObject({ code: 'datum_mixed', severity: 'note' });
  });

  it('is not raised by two grids of one datum', () => {
    expect(doubtsFor('EPSG:4326', 'EPSG:32632')).toEqual([]);
    expect(doubtsFor('EPSG:25832', 'EPSG:25833')).toEqual([]);
    expect(doubtsFor('EPSG:25832', 'EPSG:3035')).toEqual([]);
    expect(doubtsFor('EPSG:31254', 'EPSG:31254')).toEqual([]);
  });

  it('heeds the points of tapes and soundings, and leaves out what was retired', () => {
    const line = madeLine('A', [{ chainageM: 0, ...at[0] }]);
    const position = { x: 10.1, y: 47.2, crs: 'EPSG:4258' };
    const bearing = {
      id: line.path[0]?.id,
      kind: 'bearing',
      chainage_m: 40,
      position,
      bearing_deg: 0,
      bearing_reference: 'true',
    };
    const doubts = (item: object) =>
      datumMixed({ line: { ...line, path: [...line.path, item] } } as unknown as DoubtContext).length;
    expect(doubts(bearing)).toBe(1);
    expect(doubts({ ...bearing, retired: true })).toBe(0);
    const tapes = { id: 'p', kind: 'two_tapes', chainage_m: 9, first: position, second: position };
    expect(doubts(tapes)).toBe(1);
  });
});

describe('the datum of a system', () => {
  it('is what its name begins with', () => {
    expect(datumOf('EPSG:32615')).toBe('WGS 84');
    expect(datumOf('EPSG:26915')).toBe('NAD83');
    expect(datumOf('EPSG:3035')).toBe('ETRS89');
    expect(datumOf('grid:field')).toBe('WGS 84');
    expect(datumOf('EPSG:999999')).toBeNull();
  });
});
