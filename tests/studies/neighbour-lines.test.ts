import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { geodesicDestination } from '../../src/position/geodesic';
import { neighbourLines } from '../../src/studies/neighbour-lines';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

const origin = { lon: 10, lat: 47 };

/** A line of 40 m from a place east and north of the origin, along a bearing. */
function line(name: string, eastM: number, northM: number, bearingDeg: number) {
  const from = geodesicDestination(geodesicDestination(origin, 90, eastM), 0, northM);
  const to = geodesicDestination(from, bearingDeg, 40);
  return madeLine(name, [
    { chainageM: 0, ...from },
    { chainageM: 40, ...to },
  ]);
}

function groupsOf(...lines: ReturnType<typeof line>[]): string[][] {
  const readings = lines.map((each) =>
    madeReading(each, { midpoint_m: 20, spacing_m: 4, value: 300, hookup: 'pole_pole' }),
  );
  const findings = appraise({ ...emptySurvey(), lines, readings });
  const names = new Map(findings.lines.map(({ lineId, name }) => [lineId, name]));
  return neighbourLines(findings.lines).map((group) => group.map((id) => names.get(id) ?? ''));
}

describe('neighbouring lines', () => {
  it('lie side by side within 30 m, one after the other too', () => {
    expect(groupsOf(line('A', 0, 0, 90), line('B', 0, 25, 90), line('C', 0, 50, 90))).toEqual([['A', 'B', 'C']]);
    expect(groupsOf(line('A', 0, 0, 90), line('B', 0, 35, 90))).toEqual([]);
  });

  it('cross each other, however far apart their ends lie', () => {
    expect(groupsOf(line('D', 0, 0, 90), line('E', 20, 20, 180))).toEqual([['D', 'E']]);
  });

  it('are told group by group, and lines alone not at all', () => {
    const [a, b] = [line('A', 0, 0, 90), line('B', 0, 10, 90)];
    const [c, d, e] = [line('C', 0, 200, 90), line('D', 0, 210, 90), line('E', 0, 400, 90)];
    expect(groupsOf(a, c, b, e, d)).toEqual([
      ['A', 'B'],
      ['C', 'D'],
    ]);
    expect(groupsOf(e)).toEqual([]);
    expect(groupsOf()).toEqual([]);
  });
});
