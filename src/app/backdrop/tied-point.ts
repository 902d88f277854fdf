import { readPlaceText, type TextHints } from '../../position/coordinate-text';
import type { PictureTie } from '../../position/picture-fit';
import { done, type Outcome, refuse } from '../../survey/outcome';

/** A point of the picture as far as it is known: its dots, and its coordinates as typed or taken from the map. */
export interface TiedPoint {
  readonly dot: { readonly xPx: number; readonly yPx: number } | null;
  readonly place: string;
}

export const NO_TIE: TiedPoint = { dot: null, place: '' };
export const MOST_TIES = 6;

/** The ties that were begun. Refusals: `no_dot`, `no_place`, those of `readPlaceText`. */
export function tiesOf(points: readonly TiedPoint[], hints: TextHints): Outcome<readonly PictureTie[]> {
  const ties: PictureTie[] = [];
  for (const [i, { dot, place }] of points.entries()) {
    if (!dot && place.trim() === '') continue;
    const name = `Point ${i + 1}`;
    if (!dot) return refuse('no_dot', `${name}: tap it on the picture.`);
    if (place.trim() === '') return refuse('no_place', `${name}: say where it lies on the ground.`);
    const read = readPlaceText(place, hints);
    if (!read.ok) return refuse(read.code, `${name}: ${read.sentence}`);
    ties.push({ ...dot, ...read.value.lonLat });
  }
  return done(ties);
}
