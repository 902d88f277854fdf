import { corridorsOf } from './evidence/corridors';
import { crossingsOf } from './evidence/crossings';
import { depthOf } from './evidence/depth-of';
import type { PlacedThing, ScoredPlace, StationPlace } from './evidence/doubts/doubt-context';
import { findDoubts } from './evidence/doubts/find-doubts';
import { electrodesOf } from './evidence/electrodes';
import { controlled } from './evidence/false-discovery';
import { figureOf, type ReadingFigure } from './evidence/figure';
import { ladderSlope } from './evidence/ladder-slope';
import { levelsOf, withoutLevels } from './evidence/level';
import { nextReadings, type UsefulReading } from './evidence/next-readings';
import { laddersOf, type Place, placesOf } from './evidence/place';
import { type FigureSource, type References, referencesOf } from './evidence/reference';
import { rimsOf } from './evidence/rims';
import { type Score, scorePlace } from './evidence/score';
import { DEFAULT_SETTINGS } from './evidence/settings';
import { stepRatiosOf } from './evidence/step-ratio';
import { type Stretch, stretchesOf } from './evidence/stretch';
import { stationPlacesOf, thingsOf } from './evidence/surroundings';
import { thingsNear } from './evidence/things-near';
import { type SearchedVoid, zonesOf } from './evidence/zones';
import type { FindableFinding, Findings, LineFindings, MidpointFinding, Settings, TrackVertex } from './findings';
import { layoutOf } from './ground/layout';
import { radius95M } from './position/accuracy';
import { placeLine } from './position/place-line';
import { NO_REMOTES, type Remotes, remotesOf } from './position/remotes';
import type { Track, TrackOutcome } from './position/track';
import { PROGRAM_VERSION } from './program-version';
import type { VoidSearchResult } from './studies/void-search-answer';
import type { Doubt, DoubtCode } from './survey/doubt';
import { isTwoProbe } from './survey/hookup';
import type { LineId, ReadingId } from './survey/ids';
import { done, type Outcome, refuse } from './survey/outcome';
import type { Line, LocalGrid, Outing, Reading, Survey } from './survey/survey';

type Unusable = Findings['unusable'][number];

/** A line on the ground with its readings turned into figures: all that needs no other line. */
interface PlacedLine {
  readonly line: Line;
  readonly placed: TrackOutcome;
  readonly figures: readonly ReadingFigure[];
  readonly unusable: readonly Unusable[];
  /** The day whose remotes the line will have, before its first reading. */
  readonly planned: Outing | null;
}

interface Days {
  readonly outings: ReadonlyMap<string, Outing>;
  outingOf(reading: Reading): Outing | null;
  remotesOf(outing: Outing | null): Remotes;
}

/** What one computation leaves for the next: lines that did not change are not computed again. */
export interface Memory {
  readonly placed: Map<LineId, { readonly from: readonly unknown[]; readonly value: PlacedLine }>;
  readonly judged: Map<LineId, { readonly from: readonly unknown[]; readonly value: JudgedLine }>;
  /** Whether any line was compared with the site's median, in which every line has a part. */
  usesMedian: boolean;
}

export const newMemory = (): Memory => ({ placed: new Map(), judged: new Map(), usesMedian: false });

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
    const outcome = placed(base).placed;
    return outcome.ok
      ? done(outcome.track)
      : refuse('base_not_placed', `line ${base.name}, which it is set out from, has no place itself.`);
  };
  const placed = (line: Line): PlacedLine => {
    const own = readings.get(line.id) ?? [];
    placing.add(line.id);
    const bases = basesOf(line).map(baseOf);
    const made = remembered(
      memory?.placed,
      line.id,
      [line, survey.outings, grids, ...bases.map((base) => (base.ok ? base.value : base.sentence)), ...own],
      () => {
        const track = tracks.get(line.id) ?? placeLine(line, own, { grids, baseOf });
        tracks.set(line.id, track);
        return placedLine(line, own, track, survey, days);
      },
    );
    placing.delete(line.id);
    return made;
  };
  const references = referencesOf(survey.references, figureSource(lines, placed), settings);
  if (memory?.usesMedian) references.makeMedian();
  // While the curves are the same, so is every ratio taken against them.
  const curves = memory ? JSON.stringify(references.curves()) : '';
  const around: Around = {
    things: thingsNear(
      thingsOf(survey),
      lines.flatMap((line) => {
        const outcome = placed(line).placed;
        return outcome.ok ? [outcome.track] : [];
      }),
    ),
    stations: stationPlacesOf(survey, (id) => {
      const line = byId.get(id);
      return line ? (tracks.get(id) ?? placed(line).placed) : null;
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
  const searched = searchedVoids(found, studies.searches);
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

/** What searches say, in the ids of the findings; lines that are not there any more are left out. */
function searchedVoids(lines: readonly LineFindings[], searches: readonly VoidSearchResult[]) {
  const ids = new Map(lines.map(({ name, lineId }) => [name, lineId]));
  const voids = searches.flatMap(({ candidates }) =>
    candidates.map(
      (candidate): SearchedVoid => ({
        verdict: candidate.verdict,
        crossings: candidate.crossings.flatMap(({ line, chainageM }) => {
          const lineId = ids.get(line);
          return lineId ? [{ lineId, chainageM }] : [];
        }),
        depthM: candidate.depthM,
        radiusM: candidate.radiusM,
        chanceOfNoVoid: candidate.pGlobal,
        midpoints: candidate.readings,
      }),
    ),
  );
  const useful = searches.flatMap((search) =>
    search.useful.flatMap(({ line, chainageM, spacingM, hookup, ifVoid, ifNot }): UsefulReading[] => {
      const lineId = ids.get(line);
      const layout = layoutOf({ hookup, midpointM: chainageM, spacingM });
      if (!lineId || !layout.ok) return [];
      const probesM = Object.values(layout.value).filter((chainage): chainage is number => chainage !== null);
      return [{ lineId, chainageM, spacingM, hookup, probesM, ifVoid, ifNot }];
    }),
  );
  const findable = searches.flatMap((search) =>
    search.findable.flatMap(({ line, ...place }): FindableFinding[] => {
      const lineId = ids.get(line);
      return lineId ? [{ lineId, ...place }] : [];
    }),
  );
  const searched = searches.flatMap((search) => search.lines.flatMap((line) => ids.get(line) ?? []));
  return {
    voids: voids.filter(({ crossings }) => crossings.length > 0),
    useful,
    findable,
    lines: [...new Set(searched)],
  };
}

function remembered<T>(
  known: Map<LineId, { readonly from: readonly unknown[]; readonly value: T }> | undefined,
  line: LineId,
  from: readonly unknown[],
  compute: () => T,
): T {
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

function daysOf(survey: Survey): Days {
  const outings = new Map<string, Outing>(
    survey.outings.filter((outing) => !outing.retired).map((outing) => [outing.id, outing]),
  );
  // A survey of one day need not say which day each reading belongs to.
  const only = outings.size === 1 ? ([...outings.values()][0] ?? null) : null;
  const remotes = new Map<Outing, Remotes>();
  return {
    outings,
    outingOf: (reading) => (reading.outing ? (outings.get(reading.outing) ?? null) : only),
    remotesOf(outing) {
      if (!outing) return NO_REMOTES;
      const known = remotes.get(outing) ?? remotesOf(outing, survey.site.local_grids);
      remotes.set(outing, known);
      return known;
    },
  };
}

function placedLine(
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

/** What of the whole site a line's doubts look at. */
interface Around {
  readonly things: readonly PlacedThing[];
  readonly stations: readonly StationPlace[];
}

interface JudgedLine {
  readonly findings: LineFindings | null;
  readonly doubts: readonly Doubt[];
  readonly unusable: readonly Unusable[];
  readonly unplaced: Findings['unplaced'][number] | null;
}

function judgedLine(
  { line, placed, figures, unusable, planned }: PlacedLine,
  references: References,
  grids: readonly LocalGrid[],
  settings: Settings,
  around: Around,
): JudgedLine {
  const places = placesOf(figures);
  const ladders = laddersOf(places);
  const slopes = ladders.map(ladderSlope).filter((slope) => slope !== null);
  const asRead = places.map((place): ScoredPlace => ({ place, score: scorePlace(place, references, settings) }));
  const levels = levelsOf(ladders, asRead, settings);
  const { places: scored, discovery } = controlled(withoutLevels(asRead, levels, settings), settings);
  const doubts = findDoubts({ line, placed, figures, places: scored, slopes, settings, ...around });
  if (!placed.ok) {
    const unplaced = { lineId: line.id, name: line.name, sentence: placed.sentence };
    return { findings: null, doubts, unusable, unplaced };
  }

  const { track } = placed;
  const steps = stepRatiosOf(
    ladders,
    scored.map(({ score }) => score),
  );
  const stretches = stretchesOf(places, track);
  const codes = codesByReading(doubts);
  const midpoints = scored.map(({ place, score }) =>
    midpointFinding(place, score, {
      line,
      track,
      settings,
      stretch: stretches[place.index] ?? { fromM: place.chainageM, toM: place.chainageM },
      step: steps[place.index] ?? null,
      codes,
    }),
  );
  const hookups = [...new Set(figures.map(({ hookup }) => hookup))];
  return {
    doubts,
    unusable,
    unplaced: null,
    findings: {
      lineId: line.id,
      name: line.name,
      hookups: hookups.length > 0 ? hookups : line.hookup ? [line.hookup] : [],
      lengthM: track.toM - track.fromM,
      readingCount: figures.length,
      outings: [...new Set(figures.flatMap(({ outing }) => (outing ? [outing.id] : [])))],
      track: trackVertices(track, midpoints),
      controls: track.controls.map((control) => ({
        id: control.id,
        chainageM: control.chainageM,
        lon: control.place.lon,
        lat: control.place.lat,
        kind: control.kind,
        source: control.source,
        residualM: control.residualM,
        residualSigma: control.residualSigma,
        gross: control.gross,
        uncertainty95M: radius95M(control.sigmaM),
      })),
      electrodes: electrodesOf(line, track, figures, planned, grids),
      midpoints,
      corridors: corridorsOf(scored, stretches, contactReadings(doubts), settings),
      tapeGpsScale: track.tapeGpsScale,
      tapeGpsScaleError95: track.tapeGpsScaleError95,
      levels,
      discovery,
    },
  };
}

/** Readings that may be mostly contact although their hookup says otherwise: no void size can be excluded by them. */
function contactReadings(doubts: readonly Doubt[]): ReadonlySet<ReadingId> {
  const found = doubts.filter(
    ({ code, severity }) => code === 'not_pole_pole' || (code === 'contact_suspected' && severity === 'warning'),
  );
  return new Set(found.flatMap(({ readings }) => readings));
}

/** The corners of a line, and where else the way of chainage over the ground changes: slopes, and the ends in use. */
function trackVertices(track: Track, midpoints: readonly MidpointFinding[]): readonly TrackVertex[] {
  const corners = new Set([track.fromM, ...track.bends, track.toM]);
  const chainages = new Set([...corners, ...track.slopeBreaks]);
  let beforeM = 0;
  let beyondM = 0;
  for (const { chainageM, fromM, toM, spacingM } of midpoints) {
    const reach = Math.max(chainageM - fromM, toM - chainageM) + (spacingM ?? 0);
    beforeM = Math.max(beforeM, track.fromM - chainageM + reach);
    beyondM = Math.max(beyondM, chainageM + reach - track.toM);
  }
  if (beforeM > 0) chainages.add(track.fromM - beforeM);
  if (beyondM > 0) chainages.add(track.toM + beyondM);
  return [...chainages]
    .sort((p, q) => p - q)
    .map((chainageM) => {
      const { lon, lat } = track.placeAt(chainageM);
      return { chainageM, lon, lat, corner: corners.has(chainageM) };
    });
}

function codesByReading(doubts: readonly Doubt[]): ReadonlyMap<ReadingId, readonly DoubtCode[]> {
  const codes = new Map<ReadingId, readonly DoubtCode[]>();
  for (const { code, readings } of doubts) {
    const alone: readonly DoubtCode[] = [code];
    for (const id of readings) {
      const own = codes.get(id);
      if (!own) codes.set(id, alone);
      else if (!own.includes(code)) codes.set(id, [...own, code]);
    }
  }
  return codes;
}

interface MidpointContext {
  readonly line: Line;
  readonly track: Track;
  readonly settings: Settings;
  readonly stretch: Stretch;
  readonly step: number | null;
  readonly codes: ReadonlyMap<ReadingId, readonly DoubtCode[]>;
}

function midpointFinding(place: Place, score: Score, context: MidpointContext): MidpointFinding {
  const { line, track, settings, stretch, step, codes } = context;
  const first = place.counted[0] ?? (place.figures[0] as ReadingFigure);
  const { lon, lat, uncertainty95M } = track.placeAt(place.chainageM);
  const { depthM, depthRule } = depthOf(first, settings.depthRule);
  return {
    key: `${line.id}:${place.key}`,
    lineId: line.id,
    chainageM: place.chainageM,
    spacingM: place.spacingM,
    hookup: place.hookup,
    readings: place.figures.map(({ reading }) => reading.id),
    readingCount: place.counted.length,
    figureKind: isTwoProbe(place.hookup) ? 'two_probe' : 'apparent_resistivity',
    figureOhmM: score.figureOhmM,
    figureAboveOhmM: score.aboveOhmM,
    referenceOhmM: score.referenceOhmM,
    referenceBasis: score.basis,
    referenceStations: score.stations,
    ratio: score.ratio,
    ratioAbove: score.ratioAbove,
    ratioStandardError: score.ratioStandardError,
    zScore: score.zScore,
    stepRatio: step,
    grade: score.grade,
    sign: score.sign,
    depthM,
    depthRule,
    aM: first.layout?.a ?? null,
    bM: first.layout?.b ?? null,
    mM: first.layout?.m ?? null,
    nM: first.layout?.n ?? null,
    lon,
    lat,
    uncertainty95M,
    measuredAt: earliest(place.figures),
    fromM: stretch.fromM,
    toM: stretch.toM,
    doubts: codesOf(place, codes),
  };
}

function earliest(figures: readonly ReadingFigure[]): string | null {
  let time: string | null = null;
  for (const { reading } of figures) {
    if (reading.time && (time === null || reading.time < time)) time = reading.time;
  }
  return time;
}

const NO_CODES: readonly DoubtCode[] = [];

function codesOf(place: Place, codes: ReadonlyMap<ReadingId, readonly DoubtCode[]>): readonly DoubtCode[] {
  const [first, ...others] = place.figures;
  const own = first ? (codes.get(first.reading.id) ?? NO_CODES) : NO_CODES;
  if (others.length === 0) return own;
  return [...new Set([own, ...others.map(({ reading }) => codes.get(reading.id) ?? NO_CODES)].flat())];
}
