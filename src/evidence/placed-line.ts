import type { Findings } from '../findings';
import { NO_REMOTES, type Remotes, remotesOf } from '../position/remotes';
import type { TrackOutcome } from '../position/track';
import type { Line, Outing, Reading, Survey } from '../survey/survey';
import { figureOf, type ReadingFigure } from './figure';

export type Unusable = Findings['unusable'][number];

/** A line on the ground with its readings turned into figures: all that needs no other line. */
export interface PlacedLine {
  readonly line: Line;
  readonly placed: TrackOutcome;
  readonly figures: readonly ReadingFigure[];
  readonly unusable: readonly Unusable[];
  /** The day whose remotes the line will have, before its first reading. */
  readonly planned: Outing | null;
}

export function placedLine(
  line: Line,
  readings: readonly Reading[],
  placed: TrackOutcome,
  survey: Survey,
  days: Days,
): PlacedLine {
  if (!placed.ok) return { line, placed, figures: [], unusable: [], planned: null };
  const figures: ReadingFigure[] = [];
  const unusable: Unusable[] = [];
  for (const reading of readings) {
    const outing = days.outingOf(reading);
    const figure = figureOf(reading, line, placed.track, outing, days.remotesOf(outing));
    if ('sentence' in figure) {
      unusable.push({ reading: reading.id, line: line.id, sentence: `Line ${line.name}: ${figure.sentence}.` });
    } else {
      figures.push(figure);
    }
  }
  // Before its first reading a line may have a day of its own name, which holds its planned remotes.
  const planned = readings.length === 0 ? (survey.outings.find((outing) => outing.name === line.name) ?? null) : null;
  return { line, placed, figures, unusable, planned };
}

/** The days of a survey, and where their remotes stand. */
export interface Days {
  outingOf(reading: Reading): Outing | null;
  remotesOf(outing: Outing | null): Remotes;
}

export function daysOf(survey: Survey): Days {
  const outings = new Map<string, Outing>(
    survey.outings.filter((outing) => !outing.retired).map((outing) => [outing.id, outing]),
  );
  // A survey of one day need not say which day each reading belongs to.
  const only = outings.size === 1 ? ([...outings.values()][0] ?? null) : null;
  const remotes = new Map<Outing, Remotes>();
  return {
    outingOf: (reading) => (reading.outing ? (outings.get(reading.outing) ?? null) : only),
    remotesOf(outing) {
      if (!outing) return NO_REMOTES;
      const known = remotes.get(outing);
      if (known) return known;
      const found = remotesOf(outing, survey.site.local_grids);
      remotes.set(outing, found);
      return found;
    },
  };
}
