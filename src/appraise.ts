import { crossingsOf } from './evidence/crossings';
import { type Around, type JudgedLine, judgedLine } from './evidence/judged-line';
import { nextReadings } from './evidence/next-readings';
import { placesOf } from './evidence/place';
import { daysOf, type PlacedLine, placedLine } from './evidence/placed-line';
import { type FigureSource, referencesOf } from './evidence/reference';
import { rimsOf } from './evidence/rims';
import { DEFAULT_SETTINGS } from './evidence/settings';
import { stationPlacesOf, thingsOf } from './evidence/surroundings';
import { thingsNear } from './evidence/things-near';
import { zonesOf } from './evidence/zones';
import type { Findings, Settings } from './findings';
import { placeLine } from './position/place-line';
import type { Track, TrackOutcome } from './position/track';
import { PROGRAM_VERSION } from './program-version';
import { searchFindings } from './studies/search-findings';
import type { VoidSearchResult } from './studies/void-search-answer';
import type { LineId } from './survey/ids';
import { done, type Outcome, refuse } from './survey/outcome';
import type { Line, Reading, Survey } from './survey/survey';

/** Values by line, each with what it was computed from. */
type Remembered<T> = Map<LineId, { readonly from: readonly unknown[]; readonly value: T }>;

/** What one computation leaves for the next: lines that did not change are not computed again. */
export interface Memory {
  readonly tracks: Remembered<TrackOutcome>;
  readonly placed: Remembered<PlacedLine>;
  readonly judged: Remembered<JudgedLine>;
  /** Whether any line was compared with the site's median, in which every line has a part. */
  usesMedian: boolean;
}

export const newMemory = (): Memory => ({ tracks: new Map(), placed: new Map(), judged: new Map(), usesMedian: false });

/** Answers of studies that the pipeline takes into account. */
export interface Studies {
  readonly searches: readonly VoidSearchResult[];
}

export const NO_STUDIES: Studies = { searches: [] };

/**
 * The one pipeline: a survey in, findings out. Pure; linear in the number of readings.
 * Places every line, turns readings into figures, compares them with the reference, grades them, and says what is
 * doubtful. Readings and lines that cannot be used are named, never dropped.
 * `memory`: of an earlier computation; entities that are the same objects as then are taken to be unchanged.
 * `studies`: answers to slow questions that were asked about this very survey.
 */
export function appraise(
  survey: Survey,
  settings: Settings = DEFAULT_SETTINGS,
  memory?: Memory,
  studies: Studies = NO_STUDIES,
): Findings {
  const days = daysOf(survey);
  const lines = survey.lines.filter((line) => !line.retired);
  const readings = readingsByLine(survey);
  const tracks = new Map<LineId, TrackOutcome>();
  const grids = survey.site.local_grids;
  const byId = new Map(lines.map((line) => [line.id, line]));
  const placing = new Set<LineId>();
  const baseOf = (id: LineId): Outcome<Track> => {
    const base = byId.get(id);
    if (!base) return refuse('no_base_line', 'the line that it is set out from is not in this survey any more.');
    if (placing.has(id)) return refuse('base_in_circle', `line ${base.name} is set out from this one in turn.`);
    const outcome = trackOf(base);
    return outcome.ok
      ? done(outcome.track)
      : refuse('base_not_placed', `line ${base.name}, which it is set out from, has no place itself.`);
  };
  const trackOf = (line: Line): TrackOutcome => {
    const known = tracks.get(line.id);
    if (known) return known;
    const own = readings.get(line.id) ?? [];
    placing.add(line.id);
    const bases = basesOf(line).map(baseOf);
    const from = [line, grids, ...bases.map((base) => (base.ok ? base.value : base.sentence)), ...own];
    const track = remembered(memory?.tracks, line.id, from, () => placeLine(line, own, { grids, baseOf }));
    placing.delete(line.id);
    tracks.set(line.id, track);
    return track;
  };
  // A track is made anew whenever its line or one of its readings is another.
  const placed = (line: Line): PlacedLine => {
    const track = trackOf(line);
    return remembered(memory?.placed, line.id, [track, survey.outings], () =>
      placedLine(line, readings.get(line.id) ?? [], track, survey, days),
    );
  };
  const references = referencesOf(survey.references, figureSource(lines, placed), settings);
  if (memory?.usesMedian) references.makeMedian();
  // While the curves are the same, so is every ratio taken against them.
  const curves = memory ? JSON.stringify(references.curves()) : '';
  const around: Around = {
    things: thingsNear(
      thingsOf(survey),
      lines.flatMap((line) => {
        const outcome = trackOf(line);
        return outcome.ok ? [outcome.track] : [];
      }),
    ),
    stations: stationPlacesOf(survey, (id) => {
      const line = byId.get(id);
      return line ? trackOf(line) : null;
    }),
  };
  const aroundText = memory ? JSON.stringify(around) : '';
  const judged = lines.map((line) => {
    const here = placed(line);
    return remembered(memory?.judged, line.id, [here, settings, curves, grids, aroundText], () =>
      judgedLine(here, references, grids, settings, around),
    );
  });
  if (memory) memory.usesMedian = references.usesMedian();
  const found = judged.flatMap(({ findings }) => findings ?? []);
  const searched = searchFindings(found, studies.searches);
  const zones = zonesOf(found, searched.voids, searched.lines);
  return {
    provenance: { programVersion: PROGRAM_VERSION, settings },
    lines: found,
    references: references.curves(),
    crossings: crossingsOf(found, settings),
    doubts: judged.flatMap(({ doubts }) => doubts),
    zones,
    nextReadings: nextReadings({
      zones,
      lines: found,
      useful: searched.useful,
      rims: zones.length > 0 ? rimsOf(survey, settings.rimDistanceM) : [],
      settings,
    }),
    searchedLines: searched.lines,
    findable: searched.findable,
    unusable: judged.flatMap(({ unusable }) => unusable),
    unplaced: judged.flatMap(({ unplaced }) => unplaced ?? []),
  };
}

function remembered<T>(known: Remembered<T> | undefined, line: LineId, from: readonly unknown[], compute: () => T): T {
  const before = known?.get(line);
  if (before && before.from.length === from.length && before.from.every((part, i) => part === from[i])) {
    return before.value;
  }
  const value = compute();
  known?.set(line, { from, value });
  return value;
}

function readingsByLine(survey: Survey): ReadonlyMap<LineId, readonly Reading[]> {
  const byLine = new Map<LineId, Reading[]>();
  for (const reading of survey.readings) {
    if (reading.retired) continue;
    const readings = byLine.get(reading.line);
    if (readings) readings.push(reading);
    else byLine.set(reading.line, [reading]);
  }
  return byLine;
}

/** The lines that a line is set out from. */
const basesOf = ({ path }: Line): readonly LineId[] =>
  path.flatMap((item) => (item.kind === 'offset' && !item.retired ? [item.base_line] : []));

/** Figures are made again when the reference asks for them: keeping them all costs more than a second computation. */
function figureSource(lines: readonly Line[], placed: (line: Line) => PlacedLine): FigureSource {
  const byId = new Map(lines.map((line) => [line.id, line]));
  return {
    lines: lines.map(({ id }) => id),
    placesOf(id) {
      const line = byId.get(id);
      return line ? placesOf(placed(line).figures) : [];
    },
  };
}
