import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import type { CrossingFinding } from '../../src/findings';
import type { Line, Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

/*
 * Tracks of soil resistivity that cross each other in one field (Cleveland, Visualizing Data, 1993; by the agridat
 * package, MIT): eastings and northings in km of a grid of the field's own, which is laid here in UTM zone 15 north at a
 * place of ours. What `appraise` says of their crossings is held against plane geometry in UTM and a search of all
 * readings for the nearest. The readings are declared Wenner at a spacing of ours: the data do not say what took them.
 */

const FILE = resolve(import.meta.dirname, '../../../shared/real-data/field-resistivity-tracks/cleveland.soil.txt');
const isThere = existsSync(FILE);
const told = isThere ? '' : ' (not run: there is no ../shared/real-data beside the checkout)';

const UTM = '+proj=utm +zone=15 +datum=WGS84';
const ORIGIN = { east: 501_000, north: 4_140_000 };
/** So far apart the neighbours of a crossing may be, m: the tracks have a reading every 9 m, and gaps. */
const SPACING_M = 20;
/** A track is drawn by a fix about so often, m. */
const FIX_EVERY_M = 150;
/** A track that has no reading for so long is two, m. */
const GAP_M = 100;

type Point = readonly [x: number, y: number];

interface Track {
  readonly name: string;
  readonly path: readonly Point[];
  /** Chainage of each corner, by the plane. */
  readonly chainages: readonly number[];
  readonly readings: readonly { readonly chainageM: number; readonly ohmM: number }[];
}

const apart = ([x, y]: Point, [u, v]: Point): number => Math.hypot(u - x, v - y);

/** Tracks by number, each in order along itself, cut at gaps; a corner about every `FIX_EVERY_M`. */
function tracksOf(text: string): readonly Track[] {
  const rows = text
    .trim()
    .split('\n')
    .slice(1)
    .map((row) => row.split('\t'));
  const byTrack = new Map<string, { at: Point; ohmM: number }[]>();
  for (const [north, east, ohmM, isNorthSouth, track] of rows) {
    const name = `${isNorthSouth === 'T' ? 'NS' : 'EW'} ${track}`;
    const at: Point = [ORIGIN.east + 1000 * Number(east), ORIGIN.north + 1000 * Number(north)];
    const own = byTrack.get(name) ?? [];
    own.push({ at, ohmM: Number(ohmM) });
    byTrack.set(name, own);
  }
  return [...byTrack].flatMap(([name, all]) => {
    const axis = name.startsWith('NS') ? 1 : 0;
    const sorted = all.sort((p, q) => p.at[axis] - q.at[axis]);
    const parts: (typeof sorted)[] = [];
    sorted.forEach((one, i) => {
      const before = sorted[i - 1];
      if (!before || one.at[axis] - before.at[axis] > GAP_M) parts.push([]);
      parts[parts.length - 1]?.push(one);
    });
    return parts.flatMap((part, i) => trackOf(`${name}${'abcdef'[i]}`, axis, part) ?? []);
  });
}

function trackOf(name: string, axis: 0 | 1, all: readonly { at: Point; ohmM: number }[]): Track | null {
  const [first, last] = [all[0], all[all.length - 1]];
  if (!first || !last || last.at[axis] - first.at[axis] < 2 * SPACING_M) return null;
  const path: Point[] = [first.at];
  for (const { at } of all) {
    const before = path[path.length - 1] as Point;
    if (at[axis] - before[axis] >= FIX_EVERY_M && last.at[axis] - at[axis] >= FIX_EVERY_M) path.push(at);
  }
  path.push(last.at);
  const chainages: number[] = [];
  path.forEach((at, i) => {
    const before = path[i - 1];
    chainages.push(before ? (chainages[i - 1] as number) + apart(before, at) : 0);
  });
  const readings = all.map(({ at, ohmM }) => {
    let k = 1;
    while (k < path.length - 1 && (path[k] as Point)[axis] < at[axis]) k += 1;
    const [p, q] = [path[k - 1] as Point, path[k] as Point];
    const share = (at[axis] - p[axis]) / (q[axis] - p[axis]);
    const [fromM, toM] = [chainages[k - 1] as number, chainages[k] as number];
    return { chainageM: fromM + share * (toM - fromM), ohmM };
  });
  return { name, path, chainages, readings };
}

function surveyOf(tracks: readonly Track[]): Survey {
  const made = tracks.map(({ name, path, chainages, readings }): { line: Line; readings: Reading[] } => {
    const line = madeLine(
      name,
      path.map((at, i) => {
        const [lon, lat] = proj4(UTM, 'WGS84', [...at]) as [number, number];
        return { chainageM: chainages[i] as number, lon, lat };
      }),
    );
    return {
      line: {
        ...line,
        path: line.path.map((item) => (item.kind === 'fix' ? { ...item, corner: true } : item)),
      },
      readings: readings.map(({ chainageM, ohmM }) =>
        madeReading(line, { midpoint_m: chainageM, spacing_m: SPACING_M, value: ohmM, hookup: 'wenner_alpha' }),
      ),
    };
  });
  return {
    ...emptySurvey('tracks of a field'),
    lines: made.map(({ line }) => line),
    readings: made.flatMap(({ readings }) => readings),
  };
}

interface Expected {
  readonly names: readonly [string, string];
  readonly chainagesM: readonly [number, number];
  readonly ratio: number;
}

/** Where two straight pieces of the plane cross, as shares of each; by determinants of the ends (Cramer). */
function sharesAt([a, b]: readonly [Point, Point], [c, d]: readonly [Point, Point]): readonly [number, number] | null {
  const turn = (p: Point, q: Point, r: Point): number =>
    p[0] * (q[1] - r[1]) + q[0] * (r[1] - p[1]) + r[0] * (p[1] - q[1]);
  const [aSide, bSide, cSide, dSide] = [turn(c, d, a), turn(c, d, b), turn(a, b, c), turn(a, b, d)];
  return aSide * bSide <= 0 && cSide * dSide <= 0 ? [aSide / (aSide - bSide), cSide / (cSide - dSide)] : null;
}

/** ln ρ at a chainage between the nearest readings on both sides, or of the only near one; null for none near. */
function lnAt({ readings }: Track, chainageM: number): number | null {
  const byDistance = (side: 1 | -1) =>
    readings
      .map(({ chainageM: own, ohmM }) => ({ awayM: side * (own - chainageM), ln: Math.log(ohmM) }))
      .filter(({ awayM }) => awayM >= 0)
      .sort((p, q) => p.awayM - q.awayM)[0];
  const [behind, ahead] = [byDistance(-1), byDistance(1)];
  if (behind && ahead && Math.max(behind.awayM, ahead.awayM) <= SPACING_M) {
    const bothM = behind.awayM + ahead.awayM;
    return bothM === 0 ? behind.ln : (behind.ln * ahead.awayM + ahead.ln * behind.awayM) / bothM;
  }
  return [behind, ahead].find((one) => one && one.awayM <= SPACING_M / 2)?.ln ?? null;
}

function expectedOf(tracks: readonly Track[]): readonly Expected[] {
  return tracks.flatMap((p, i) =>
    tracks.slice(i + 1).flatMap((q) =>
      p.path.slice(1).flatMap((b, k) =>
        q.path.slice(1).flatMap((d, m): Expected[] => {
          const shares = sharesAt([p.path[k] as Point, b], [q.path[m] as Point, d]);
          if (!shares) return [];
          const at = ({ chainages }: Track, piece: number, share: number): number =>
            (chainages[piece] as number) + share * ((chainages[piece + 1] as number) - (chainages[piece] as number));
          const chainagesM = [at(p, k, shares[0]), at(q, m, shares[1])] as const;
          const [lnP, lnQ] = [lnAt(p, chainagesM[0]), lnAt(q, chainagesM[1])];
          if (lnP === null || lnQ === null) return [];
          return [{ names: [p.name, q.name], chainagesM, ratio: Math.exp(lnP - lnQ) }];
        }),
      ),
    ),
  );
}

/** Whether a corner of either track lies among the electrodes of the readings nearest to a crossing. */
const isByBend = (tracks: readonly Track[], names: readonly string[], chainagesM: readonly number[]): boolean =>
  names.some((name, i) => {
    const corners = tracks.find((track) => track.name === name)?.chainages.slice(1, -1) ?? [];
    return corners.some((corner) => Math.abs(corner - (chainagesM[i] as number)) <= 2.5 * SPACING_M);
  });

const medianSize = (values: readonly number[]): number => {
  const sorted = values.map(Math.abs).sort((p, q) => p - q);
  return sorted[sorted.length >> 1] as number;
};

describe.runIf(isThere)('crossings of the tracks of a real field', () => {
  const tracks = isThere ? tracksOf(readFileSync(FILE, 'utf8')) : [];
  const survey = surveyOf(tracks);
  const findings = appraise(survey);
  const names = new Map(survey.lines.map(({ id, name }) => [id, name]));
  const found = new Map(
    (findings.crossings ?? []).map((one): [string, CrossingFinding] => [
      one.lines.map((id) => names.get(id)).join(' | '),
      one,
    ]),
  );
  const expected = expectedOf(tracks);

  it('are those of plane geometry, all of them and no others', () => {
    expect(findings.unplaced).toEqual([]);
    expect(findings.unusable).toEqual([]);
    expect(expected.length).toBeGreaterThan(100);
    const keyOf = ([p, q]: readonly [string, string]): string =>
      found.has(`${p} | ${q}`) ? `${p} | ${q}` : `${q} | ${p}`;
    expect([...found.keys()].sort()).toEqual(expected.map((one) => keyOf(one.names)).sort());
    expect(findings.crossings?.length).toBe(expected.length);
  });

  it('have the chainages of plane geometry to 5 mm, and the ratio of the nearest readings', () => {
    let [worstM, straight, bent] = [0, 0, 0];
    for (const { names: own, chainagesM, ratio } of expected) {
      const same = found.get(own.join(' | '));
      const one = same ?? found.get([...own].reverse().join(' | '));
      if (!one) throw new Error(`${own.join(' and ')} are not found to cross`);
      const [atP, atQ] = same ? one.chainagesM : [one.chainagesM[1], one.chainagesM[0]];
      worstM = Math.max(worstM, Math.abs(atP - chainagesM[0]), Math.abs(atQ - chainagesM[1]));
      const off = Math.abs(Math.log((same ? one.ratio : 1 / one.ratio) / ratio));
      // Round a bend the electrodes of a reading are nearer to each other than the tape says, and its figure is less.
      if (isByBend(tracks, own, chainagesM)) bent = Math.max(bent, off);
      else straight = Math.max(straight, off);
    }
    expect(worstM).toBeLessThan(0.005);
    expect(straight).toBeLessThan(2e-5);
    expect(bent).toBeLessThan(0.01);
  });

  it('agree far better than readings of two tracks that do not cross there', () => {
    const crossed = expected.map(({ ratio }) => Math.log(ratio));
    const all = tracks.flatMap(({ readings }) => readings.map(({ ohmM }) => Math.log(ohmM)));
    // Pairs half the field apart in the list: as good as drawn by lot, and the same each time.
    const half = all.length >> 1;
    const drawn = all.slice(0, half).map((ln, i) => ln - (all[i + half] as number));
    expect(medianSize(crossed)).toBeLessThan(medianSize(drawn) / 3);
  });

  it('are not said to agree by the scatter of the whole field, where there is no quiet place to tell the scatter', () => {
    const { standardErrorFloor, zThreshold } = findings.provenance.settings;
    for (const { standardErrorLn, ratio, agree } of findings.crossings ?? []) {
      expect(standardErrorLn).toBeCloseTo(Math.SQRT2 * standardErrorFloor, 12);
      expect(agree).toBe(Math.abs(Math.log(ratio)) <= zThreshold * standardErrorLn);
    }
  });
});

it.runIf(!isThere)(`crossings of the tracks of a real field${told}`, () => {
  expect(existsSync(FILE)).toBe(false);
});
