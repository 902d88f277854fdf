import type { Hookup } from '../../survey/hookup';
import type { LineId } from '../../survey/ids';
import type { Survey } from '../../survey/survey';

export interface StationsSuggested {
  readonly fromM: number;
  readonly toM: number;
  readonly stepM: number;
}

/** Stations that a line seems to want: those it was read at before, else those its electrodes were planned at. */
export function suggestedStations(survey: Survey, line: LineId): StationsSuggested | null {
  const read = survey.readings.flatMap(({ line: of, midpoint_m: midpoint, retired }) =>
    of === line && !retired && typeof midpoint === 'number' ? [midpoint] : [],
  );
  const stations = [...new Set(read.map((midpoint) => Math.round(midpoint * 100)))].sort((p, q) => p - q);
  const [first, second] = stations;
  const last = stations.at(-1);
  if (first !== undefined && second !== undefined && last !== undefined) {
    const gaps = stations.slice(1).map((station, i) => station - (stations[i] as number));
    return { fromM: first / 100, toM: last / 100, stepM: commonest(gaps) / 100 };
  }
  const layout = survey.lines.find(({ id }) => id === line)?.layout;
  return layout && 'from_m' in layout ? { fromM: layout.from_m, toM: layout.to_m, stepM: layout.step_m } : null;
}

function commonest(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort(([p, often], [q, more]) => more - often || p - q)[0]?.[0] ?? 0;
}

/** Spacings that were read with a hookup anywhere in the survey, growing. */
export function suggestedSpacings(survey: Survey, hookup: Hookup | null): readonly number[] {
  const hookupOfLine = new Map(survey.lines.map((line) => [line.id, line.hookup]));
  const spacings = survey.readings.flatMap(({ hookup: own, line, spacing_m: spacing, retired }) =>
    !retired && typeof spacing === 'number' && (own ?? hookupOfLine.get(line)) === hookup ? [spacing] : [],
  );
  return [...new Set(spacings)].sort((p, q) => p - q);
}
