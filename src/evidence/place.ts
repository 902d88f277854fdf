import type { Hookup } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import type { ReadingFigure } from './figure';

/** One place, spacing and hookup of a line: its repeats belong together. */
export interface Place {
  /** Its place in `placesOf`, so that what is computed for it can stand in a plain array. */
  readonly index: number;
  readonly hookup: Hookup;
  readonly chainageM: number;
  readonly spacingM: number | null;
  readonly figures: readonly ReadingFigure[];
  /** Those that showed a value and were not rejected. */
  readonly counted: readonly ReadingFigure[];
}

const millimetres = (lengthM: number): number => Math.round(lengthM * 1000);

/** Names a place among those of all lines. */
export function keyOf(line: LineId, { hookup, chainageM, spacingM, figures }: Place): string {
  const variant = figures[0]?.variant ?? '';
  // Put together at once: joined piece by piece, a key stays a chain of its pieces in memory.
  const parts = [line, millimetres(chainageM), spacingM === null ? '' : millimetres(spacingM), hookup];
  if (variant !== '') parts.push(variant);
  return parts.join(':');
}

/** Keeps two lengths of up to 67 km in millimetres apart in one number, which is quicker to look up than a text. */
const LENGTHS_APART = 2 ** 26;

/** Groups the figures of one line by place, spacing and hookup; sorted by hookup, spacing and chainage. */
export function placesOf(figures: readonly ReadingFigure[]): readonly Place[] {
  const groups: ReadingFigure[][] = [];
  const byVariant = new Map<string, Map<number, ReadingFigure[]>>();
  for (const figure of figures) {
    const variant = figure.variant === '' ? figure.hookup : `${figure.hookup}:${figure.variant}`;
    let bySpot = byVariant.get(variant);
    if (!bySpot) {
      bySpot = new Map();
      byVariant.set(variant, bySpot);
    }
    const spacing = figure.spacingM === null ? -1 : millimetres(figure.spacingM);
    const spot = millimetres(figure.chainageM) + spacing * LENGTHS_APART;
    const group = bySpot.get(spot);
    if (group) {
      group.push(figure);
    } else {
      const fresh = [figure];
      bySpot.set(spot, fresh);
      groups.push(fresh);
    }
  }
  groups.sort((p, q) => inOrder(p[0] as ReadingFigure, q[0] as ReadingFigure));
  return groups.map((own, index): Place => {
    const { hookup, chainageM, spacingM } = own[0] as ReadingFigure;
    const counted = own.every(isCounted) ? own : own.filter(isCounted);
    return { index, hookup, chainageM, spacingM, figures: own, counted };
  });
}

const isCounted = (figure: ReadingFigure): boolean => figure.figureOhmM !== null;

function inOrder(p: ReadingFigure, q: ReadingFigure): number {
  if (p.hookup !== q.hookup) return p.hookup < q.hookup ? -1 : 1;
  return (p.spacingM ?? 0) - (q.spacingM ?? 0) || p.chainageM - q.chainageM;
}

/** Places of one line and hookup at one chainage, by growing spacing: a ladder. Those without a spacing are in none. */
export function laddersOf(places: readonly Place[]): readonly (readonly Place[])[] {
  const ladders: Place[][] = [];
  let hookup: Hookup | null = null;
  let byChainage = new Map<number, Place[]>();
  for (const place of places) {
    if (place.spacingM === null) continue;
    // Places come sorted by hookup, so one hookup's ladders are complete before the next begins.
    if (place.hookup !== hookup) {
      hookup = place.hookup;
      byChainage = new Map();
    }
    const chainage = millimetres(place.chainageM);
    const ladder = byChainage.get(chainage);
    if (ladder) {
      ladder.push(place);
    } else {
      const fresh = [place];
      byChainage.set(chainage, fresh);
      ladders.push(fresh);
    }
  }
  return ladders;
}
