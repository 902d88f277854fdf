import type { Settings } from '../../findings';
import type { LonLat } from '../../position/crs';
import type { TrackOutcome } from '../../position/track';
import type { Doubt, DoubtCode, DoubtSeverity } from '../../survey/doubt';
import type { LineId, ReadingId } from '../../survey/ids';
import type { Line } from '../../survey/survey';
import type { ReadingFigure } from '../figure';
import type { LadderSlope } from '../ladder-slope';
import type { Place } from '../place';
import type { Score } from '../score';

export interface ScoredPlace {
  readonly place: Place;
  readonly score: Score;
}

/** Everything about one line that a doubt may look at. */
export interface DoubtContext {
  readonly line: Line;
  readonly placed: TrackOutcome;
  readonly figures: readonly ReadingFigure[];
  readonly places: readonly ScoredPlace[];
  readonly slopes: readonly LadderSlope[];
  readonly settings: Settings;
  /** Stations of every reference that is in use. */
  readonly stations: readonly StationPlace[];
  /** What was written down of the surroundings of the whole site, where it has a place. */
  readonly things: readonly PlacedThing[];
}

/** A station of a reference, on the ground. */
export interface StationPlace {
  readonly line: LineId;
  readonly chainageM: number;
  readonly lon: number;
  readonly lat: number;
}

/** A pipe, a fence, an opening: one place, or a line of them. */
export interface PlacedThing {
  readonly id: string;
  readonly kind: string;
  readonly name: string | null;
  readonly places: readonly LonLat[];
}

/** One kind of doubt: looks at a line and says what it finds. */
export type FindDoubts = (context: DoubtContext) => readonly Doubt[];

export interface DoubtDetails {
  readonly code: DoubtCode;
  readonly severity: DoubtSeverity;
  readonly line: LineId;
  readonly chainageM?: number | null;
  readonly spacingM?: number | null;
  /** Tells doubts of one code and place apart. */
  readonly aspect?: string;
  readonly sentence: string;
  readonly remedy: string;
  readonly readings?: readonly ReadingId[];
}

/** A doubt whose id comes from what it is about, so that a settlement finds it again. */
export function doubtAbout(details: DoubtDetails): Doubt {
  const { code, severity, line, chainageM = null, spacingM = null, aspect, sentence, remedy, readings = [] } = details;
  const place = [chainageM, spacingM].map((value) => (value === null ? '' : Math.round(value * 1000))).join(':');
  const id = `${code}:${line}:${place}${aspect ? `:${aspect}` : ''}`;
  return { id, code, severity, line, chainageM, spacingM, sentence, remedy, readings };
}

export const readingsOf = (place: Place): readonly ReadingId[] => place.figures.map(({ reading }) => reading.id);
