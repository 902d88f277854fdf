import { done, type Outcome, refuse } from '../../survey/outcome';
import { isAmbiguous, typedNumber } from '../state/typed-value';

/** A place and spacing that a reading is taken at. */
export interface Spot {
  readonly stationM: number;
  readonly spacingM: number;
}

/** What is read one after the other. `ladder`: all spacings of a station, then the next. `traverse`: all stations at a spacing. */
export interface Round {
  readonly order: 'ladder' | 'traverse';
  readonly stationsM: readonly number[];
  readonly spacingsM: readonly number[];
}

/** More spots than this are a slip of the finger. */
const MOST_STATIONS = 2000;
/** Pegs are set to the centimetre at best; spacings are measured along a tape. */
const SAME_STATION_M = 0.005;
const SAME_SPACING_M = 0.0005;

export const isSameSpot = (p: Spot, q: Spot): boolean =>
  Math.abs(p.stationM - q.stationM) < SAME_STATION_M && Math.abs(p.spacingM - q.spacingM) < SAME_SPACING_M;

/** Every spot of a round in the order in which they are read. */
export function spotsOf({ order, stationsM, spacingsM }: Round): readonly Spot[] {
  return order === 'ladder'
    ? stationsM.flatMap((stationM) => spacingsM.map((spacingM) => ({ stationM, spacingM })))
    : spacingsM.flatMap((spacingM) => stationsM.map((stationM) => ({ stationM, spacingM })));
}

/**
 * The spot of a list that comes up: the first one after `last` that was not read yet, else the first of all that was not.
 * After a last one that is not on the list it begins at its beginning. Null when all were read.
 */
export function nextSpot(spots: readonly Spot[], isRead: (spot: Spot) => boolean, last: Spot | null): Spot | null {
  const at = last === null ? -1 : spots.findIndex((spot) => isSameSpot(spot, last));
  return [...spots.slice(at + 1), ...spots.slice(0, at + 1)].find((spot) => !isRead(spot)) ?? null;
}

/** The spot a station farther along (`by` = 1) or back (−1), with the same spacing; where there is none, the same. */
export function stationBeside(round: Round, { stationM, spacingM }: Spot, by: 1 | -1): Spot {
  const stations = [...round.stationsM].sort((p, q) => p - q);
  const next =
    by === 1
      ? stations.find((other) => other > stationM + SAME_STATION_M)
      : stations.findLast((other) => other < stationM - SAME_STATION_M);
  return { stationM: next ?? stationM, spacingM };
}

/** Stations every `stepM` from `fromM` to `toM`, either way. Refuses a step that is not above 0 and more than 2000 stations. */
export function stationsEvery(fromM: number, toM: number, stepM: number): Outcome<readonly number[]> {
  if (!(stepM > 0)) return refuse('step_not_positive', 'The step from station to station has to be above 0 m.');
  const count = Math.floor(Math.abs(toM - fromM) / stepM + 1e-6) + 1;
  if (!(count <= MOST_STATIONS)) {
    return refuse('too_many_stations', `That would be more than ${MOST_STATIONS} stations. Make the step longer.`);
  }
  const sign = toM < fromM ? -1 : 1;
  return done(Array.from({ length: count }, (_, i) => Number((fromM + sign * i * stepM).toFixed(3))));
}

/** Spacings typed in a row, in the order in which they are read: "2 4 8 16", "1,5; 3". */
export function spacingsTyped(text: string): Outcome<readonly number[]> {
  const parts = text.split(/[\s;]+|,(?=\s)/).filter((part) => part !== '');
  const spacings: number[] = [];
  for (const part of parts) {
    const spacing = typedNumber(part);
    if (isAmbiguous(spacing)) return spacing;
    if (!spacing.ok || !(spacing.value > 0)) return refuse('not_a_spacing', `“${part}” is not a spacing in metres.`);
    spacings.push(spacing.value);
  }
  if (spacings.length === 0) return refuse('no_spacings', 'Say the spacings in metres, like: 2 4 8 16.');
  return done([...new Set(spacings)]);
}
