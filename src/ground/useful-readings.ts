import type { Hookup } from '../survey/hookup';
import { type Layout, layoutOf } from './layout';
import { type LineErrors, type LineReading, lineErrors } from './line-errors';
import type { PreparedLine } from './line-search';
import type { VoidTable } from './void-table';
import { type Template, voidTemplates } from './void-templates';

/** A reading that was not taken yet, with what is expected of it. */
export interface Useful {
  readonly chainageM: number;
  readonly spacingM: number;
  readonly layout: Layout;
  /** Square of the distance between the two expectations, in standard errors of either. */
  readonly gain: number;
  /** Ratio to the reference with the void, and with uneven soil alone. */
  readonly ifVoid: number;
  readonly ifNot: number;
}

/** Where readings look at a void, in spacings from its place: over it, and with one probe over it. */
const OFFSETS = [0, -0.5, 0.5, -0.25, 0.25] as const;
const MOST = 5;

/**
 * Readings beside those of a line that would best tell a void from uneven soil: each is foretold from the readings that
 * there are, once with the void taken out of them and put back, once without (kriging with the errors of the line;
 * Cressie 1993, Statistics for Spatial Data, §3.4). New spacings lie half-way between those in use, in ratio.
 */
export function usefulReadings(
  line: PreparedLine,
  table: VoidTable,
  {
    hookup,
    spacingsM,
    atM,
    found,
    errors,
  }: {
    readonly hookup: Hookup;
    readonly spacingsM: readonly number[];
    readonly atM: number;
    readonly found: Template;
    readonly errors: number;
  },
): Useful[] {
  const known = line.readings;
  const asked = newLayouts(known, hookup, spacingsM, atM);
  if (asked.length === 0) return [];
  const all = [...known, ...asked.map(({ reading }) => reading)];
  const { uneven } = line.errors[errors] as LineErrors;
  const joint = lineErrors(all, line.soil, [uneven])[0];
  if (!joint) return [];
  const templates = voidTemplates(
    table,
    all.map(({ layout }) => layout),
    {
      ...line.grid,
      chainagesM: [found.chainageM],
      depthsM: [found.depthM],
      shares: [found.radiusM / found.depthM],
      tried: [found.tried],
    },
  );
  if (templates.list.length === 0) return [];
  const ofVoid = templates.lnRatio;
  const n = known.length;
  const size = all.length;
  const { factor } = joint;
  const forward = (y: (i: number) => number): Float64Array => {
    const z = new Float64Array(n);
    for (let i = 0; i < n; i += 1) {
      let sum = y(i);
      for (let k = 0; k < i; k += 1) sum -= (factor[i * size + k] as number) * (z[k] as number);
      z[i] = sum / (factor[i * size + i] as number);
    }
    return z;
  };
  const plain = forward((i) => line.lnRatio[i] as number);
  const rest = forward((i) => (line.lnRatio[i] as number) - (ofVoid[i] as number));
  return asked
    .map(({ chainageM, spacingM, reading }, j): Useful => {
      const row = (n + j) * size;
      let [without, withVoid, variance] = [0, ofVoid[n + j] as number, 0];
      for (let k = 0; k < n; k += 1) {
        without += (factor[row + k] as number) * (plain[k] as number);
        withVoid += (factor[row + k] as number) * (rest[k] as number);
      }
      for (let k = n; k <= n + j; k += 1) variance += (factor[row + k] as number) ** 2;
      return {
        chainageM,
        spacingM,
        layout: reading.layout,
        gain: (withVoid - without) ** 2 / variance,
        ifVoid: Math.exp(withVoid),
        ifNot: Math.exp(without),
      };
    })
    .sort((p, q) => q.gain - p.gain)
    .slice(0, MOST);
}

interface Asked {
  readonly chainageM: number;
  readonly spacingM: number;
  readonly reading: LineReading;
}

function newLayouts(known: readonly LineReading[], hookup: Hookup, spacingsM: readonly number[], atM: number): Asked[] {
  const taken = new Set(known.map(({ layout }) => keyOf(layout)));
  const chainages = known.flatMap(({ layout: { a, b, m, n } }) => [a, b, m, n]).filter((chainage) => chainage !== null);
  const [fromM, toM] = [Math.min(...chainages), Math.max(...chainages)];
  const sorted = [...spacingsM].sort((p, q) => p - q);
  const between = sorted.slice(1).map((spacing, i) => Math.round(2 * Math.sqrt(spacing * (sorted[i] as number))) / 2);
  const noiseLn = known.reduce((sum, reading) => sum + reading.noiseLn, 0) / known.length;
  const asked: Asked[] = [];
  for (const spacingM of [...new Set([...sorted, ...between])]) {
    for (const offset of OFFSETS) {
      const chainageM = Math.round(2 * (atM + offset * spacingM)) / 2;
      const layout = layoutOf({ hookup, midpointM: chainageM, spacingM });
      if (!layout.ok || taken.has(keyOf(layout.value))) continue;
      const onLine = [layout.value.a, layout.value.b, layout.value.m, layout.value.n].filter((c) => c !== null);
      if (Math.min(...onLine) < fromM || Math.max(...onLine) > toM) continue;
      taken.add(keyOf(layout.value));
      const like = known.find((reading) => reading.group === groupOf(hookup, spacingM));
      asked.push({
        chainageM,
        spacingM,
        reading: {
          layout: layout.value,
          apparentOhmM: 1,
          referenceOhmM: 1,
          noiseLn,
          referenceLn: like?.referenceLn ?? noiseLn,
          group: groupOf(hookup, spacingM),
        },
      });
    }
  }
  return asked;
}

/** The group of plain readings of a hookup and spacing. */
export const groupOf = (hookup: Hookup, spacingM: number): string => `${hookup} ${Math.round(1000 * spacingM)}`;

const keyOf = ({ a, b, m, n }: Layout): string =>
  [a, b, m, n].map((chainage) => (chainage === null ? '' : Math.round(1000 * chainage))).join(' ');
