import type { Track } from '../position/track';
import type { Place } from './place';
import { medianOf } from './robust';

export interface Stretch {
  readonly fromM: number;
  readonly toM: number;
}

/**
 * The stretch of line that each place speaks for: half-way to its neighbours of the same hookup and spacing, at most one
 * spacing long. Where the spacing was not said, at most the usual distance between neighbours.
 * `places` as `placesOf` sorts them; one stretch for each, in the same order.
 */
export function stretchesOf(places: readonly Place[], track: Track): readonly Stretch[] {
  const stretches: Stretch[] = [];
  for (let start = 0; start < places.length; ) {
    const head = places[start] as Place;
    let end = start + 1;
    while (end < places.length && isRow(head, places[end] as Place)) end += 1;
    addRow(places.slice(start, end), track, stretches);
    start = end;
  }
  return stretches;
}

const isRow = (p: Place, q: Place): boolean => p.hookup === q.hookup && p.spacingM === q.spacingM;

function addRow(row: readonly Place[], track: Track, stretches: Stretch[]): void {
  const gaps: number[] = [];
  for (let i = 1; i < row.length; i += 1) {
    const gap = (row[i] as Place).chainageM - (row[i - 1] as Place).chainageM;
    if (gap > 0) gaps.push(gap);
  }
  const usual = gaps.length > 0 ? medianOf(gaps) : (track.toM - track.fromM) / 2;
  const reach = (row[0]?.spacingM ?? usual) / 2;

  row.forEach((place, i) => {
    const before = gapTo(row, i, -1);
    const after = gapTo(row, i, 1);
    const back = Math.min(reach, (before ?? after ?? Infinity) / 2);
    const ahead = Math.min(reach, (after ?? before ?? Infinity) / 2);
    stretches[place.index] = { fromM: place.chainageM - back, toM: place.chainageM + ahead };
  });
}

/** Distance to the next place at another chainage: layouts of one midpoint may differ in more than their spacing. */
function gapTo(row: readonly Place[], i: number, step: 1 | -1): number | null {
  const here = (row[i] as Place).chainageM;
  for (let j = i + step; j >= 0 && j < row.length; j += step) {
    const gap = Math.abs((row[j] as Place).chainageM - here);
    if (gap > 0) return gap;
  }
  return null;
}
