import type { Surroundings } from '../../src/position/anchors';
import { emptySurvey as anEmptySurvey } from '../../src/survey/empty-survey';
import { makeId } from '../../src/survey/ids';
import type { Line, Outing, Reading, Reference, Survey } from '../../src/survey/survey';

const NEW = { at: null, by: null, count: 0 };

/** An empty survey to build a case from. */
export const emptySurvey = (name = 'made for a test'): Survey => anEmptySurvey(`test ${name}`, name);

export interface FixAt {
  readonly chainageM: number;
  readonly lon: number;
  readonly lat: number;
  readonly elevationM?: number;
  readonly accuracyM?: number;
}

/** A line through fixes that are good to `accuracyM` (95 %; 0.1 m unless said). */
export function madeLine(name: string, fixes: readonly FixAt[], more: Partial<Line> = {}): Line {
  return {
    id: makeId('line', 'test', name),
    revised: NEW,
    name,
    path: fixes.map((fix, i) => ({
      id: makeId('path', 'test', `${name}/${i}`),
      kind: 'fix' as const,
      chainage_m: fix.chainageM,
      position: {
        x: fix.lon,
        y: fix.lat,
        crs: 'EPSG:4326',
        accuracy_m: fix.accuracyM ?? 0.1,
        accuracy_level: 95 as const,
        ...(fix.elevationM === undefined ? {} : { elevation_m: fix.elevationM }),
      },
    })),
    profile: [],
    ...more,
  };
}

let ordinal = 0;

/** A reading on a line; say at least its midpoint, spacing, value and hookup. */
export function madeReading(line: Line, said: Partial<Reading>): Reading {
  ordinal += 1;
  return {
    id: makeId('reading', 'test', String(ordinal)),
    revised: NEW,
    line: line.id,
    value: null,
    unit: 'ohm_m',
    status: 'ok',
    ...said,
  };
}

export function madeOuting(name: string, more: Partial<Outing> = {}): Outing {
  return { id: makeId('outing', 'test', name), revised: NEW, name, people: [], rods: [], remotes: [], ...more };
}

export function madeReference(
  stations: readonly { line: Line; chainageM: number }[],
  more: Partial<Reference> = {},
): Reference {
  return {
    id: makeId('reference', 'test', stations.map(({ chainageM }) => chainageM).join()),
    revised: NEW,
    name: 'quiet place',
    stations: stations.map(({ line, chainageM }) => ({ line: line.id, chainage_m: chainageM })),
    ...more,
  };
}

/** A seeded generator of numbers in 0…1 (a 32-bit linear congruential step, Numerical Recipes constants). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Of a line that no other line is near, in a site without grids of its own. */
export const standingAlone: Surroundings = {
  grids: [],
  baseOf: () => ({ ok: false, code: 'no_base_line', sentence: 'there is no other line' }),
};
