import type { Change } from './commit';
import type { Author } from './edits';
import { makeId } from './ids';
import { done, type Outcome, refuse } from './outcome';
import type { Line, Reading, Reference, Survey } from './survey';

/** A stretch of a line that its surveyor takes to be quiet. */
export interface QuietPart {
  readonly line: Line;
  readonly fromM: number;
  readonly toM: number;
  /** Of the reference; by default after the line and the stretch. */
  readonly name?: string;
}

const midpointOf = ({ midpoint_m: midpoint, electrodes }: Reading): number | null => {
  if (midpoint !== null && midpoint !== undefined) return midpoint;
  const known = electrodes
    ? [electrodes.a_m, electrodes.b_m, electrodes.m_m, electrodes.n_m].filter((c) => c !== null)
    : [];
  return known.length > 0 ? (Math.min(...known) + Math.max(...known)) / 2 : null;
};

/**
 * Makes a reference of the readings on a stretch of a line: each midpoint there becomes a station.
 * Marking the same stretch again renews its stations. Refuses a stretch without readings (`no_quiet_readings`).
 */
export function referToQuietPart(survey: Survey, part: QuietPart, author: Author): Outcome<Change> {
  const { line } = part;
  const [fromM, toM] = [Math.min(part.fromM, part.toM), Math.max(part.fromM, part.toM)];
  const chainages = survey.readings.flatMap((reading) => {
    const chainageM = reading.line === line.id && !reading.retired ? midpointOf(reading) : null;
    return chainageM !== null && chainageM >= fromM && chainageM <= toM ? [chainageM] : [];
  });
  const stations = [...new Set(chainages)].sort((p, q) => p - q);
  if (stations.length === 0) {
    return refuse(
      'no_quiet_readings',
      `Line ${line.name} has no readings from ${fromM} to ${toM} m. Mark a stretch that was read.`,
    );
  }
  const id = makeId('reference', survey.id, `quiet part ${line.id} ${fromM} ${toM}`);
  const before = survey.references.find((reference) => reference.id === id);
  const reference: Reference = {
    ...before,
    id,
    revised: { ...before?.revised, at: author.at, by: author.by, count: (before?.revised.count ?? -1) + 1 },
    retired: false,
    name: part.name ?? `${line.name}, ${fromM} to ${toM} m`,
    stations: stations.map((chainage_m) => ({ line: line.id, chainage_m })),
  };
  return done({ label: `Mark a quiet part of line ${line.name}`, put: { references: [reference] } });
}
