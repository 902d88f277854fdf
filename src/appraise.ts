import { corridorsOf } from './evidence/corridors';
import { depthOf } from './evidence/depth-of';
import type { ScoredPlace } from './evidence/doubts/doubt-context';
import { findDoubts } from './evidence/doubts/find-doubts';
import { electrodesOf } from './evidence/electrodes';
import { figureOf, hookupOf, type ReadingFigure } from './evidence/figure';
import { ladderSlope } from './evidence/ladder-slope';
import { laddersOf, type Place, placesOf } from './evidence/place';
import { type FigureSource, type References, referencesOf } from './evidence/reference';
import { type Score, scorePlace } from './evidence/score';
import { DEFAULT_SETTINGS } from './evidence/settings';
import { stepRatiosOf } from './evidence/step-ratio';
import { type Stretch, stretchesOf } from './evidence/stretch';
import type { Findings, LineFindings, MidpointFinding, Settings, TrackVertex } from './findings';
import { NO_REMOTES, type Remotes, remotesOf } from './position/remotes';
import { placeLine, radius95M, type Track, type TrackOutcome } from './position/track';
import { PROGRAM_VERSION } from './program-version';
import type { Doubt, DoubtCode } from './survey/doubt';
import { type Hookup, isTwoProbe } from './survey/hookup';
import type { LineId, OutingId, ReadingId } from './survey/ids';
import type { Line, Outing, Reading, Survey } from './survey/survey';

type Unusable = Findings['unusable'][number];

/** A line on the ground with its readings turned into figures: all that needs no other line. */
interface PlacedLine {
  readonly line: Line;
  readonly placed: TrackOutcome;
  readonly figures: readonly ReadingFigure[];
  readonly unusable: readonly Unusable[];
  readonly remotes: readonly Remotes[];
}

interface Days {
  readonly outings: ReadonlyMap<string, Outing>;
  outingOf(reading: Reading): Outing | null;
  remotesOf(outing: Outing | null): Remotes;
}

/**
 * The one pipeline: a survey in, findings out. Pure; linear in the number of readings.
 * Places every line, turns readings into figures, compares them with the reference, grades them, and says what is
 * doubtful. Readings and lines that cannot be used are named, never dropped.
 */
export function appraise(survey: Survey, settings: Settings = DEFAULT_SETTINGS): Findings {
  const days = daysOf(survey);
  const lines = survey.lines.filter((line) => !line.retired);
  const readings = readingsByLine(survey);
  const tracks = new Map<LineId, TrackOutcome>();
  const placed = (line: Line): PlacedLine => {
    const own = readings.get(line.id) ?? [];
    const track = tracks.get(line.id) ?? placeLine(line, own, survey.site.local_grids);
    tracks.set(line.id, track);
    return placedLine(line, own, track, survey, days);
  };
  const references = referencesOf(survey.references, figureSource(lines, readings, placed), settings);
  const judged = lines.map((line) => judgedLine(placed(line), references, days, settings));
  return {
    provenance: { programVersion: PROGRAM_VERSION, settings },
    lines: judged.flatMap(({ findings }) => findings ?? []),
    references: references.curves,
    doubts: judged.flatMap(({ doubts }) => doubts),
    unusable: judged.flatMap(({ unusable }) => unusable),
    unplaced: judged.flatMap(({ unplaced }) => unplaced ?? []),
  };
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

/** Figures are made again when the reference asks for them: keeping them all costs more than a second computation. */
function figureSource(
  lines: readonly Line[],
  readings: ReadonlyMap<LineId, readonly Reading[]>,
  placed: (line: Line) => PlacedLine,
): FigureSource {
  const byId = new Map(lines.map((line) => [line.id, line]));
  const hookups = new Set<Hookup>();
  for (const line of lines) {
    for (const reading of readings.get(line.id) ?? []) hookups.add(hookupOf(reading, line));
  }
  return {
    lines: lines.map(({ id }) => id),
    hookups,
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
  if (!placed.ok) return { line, placed, figures: [], unusable: [], remotes: [] };
  const figures: ReadingFigure[] = [];
  const unusable: Unusable[] = [];
  const used = new Set<Outing | null>();
  for (const reading of readings) {
    const outing = days.outingOf(reading);
    used.add(outing);
    const figure = figureOf(reading, line, placed.track, outing, days.remotesOf(outing));
    if ('sentence' in figure) {
      unusable.push({ reading: reading.id, line: line.id, sentence: `Line ${line.name}: ${figure.sentence}.` });
    } else {
      figures.push(figure);
    }
  }
  // Before its first reading a line may have a day of its own name, which holds its planned remotes.
  if (readings.length === 0) used.add(survey.outings.find((outing) => outing.name === line.name) ?? null);
  return { line, placed, figures, unusable, remotes: [...used].map(days.remotesOf) };
}

interface JudgedLine {
  readonly findings: LineFindings | null;
  readonly doubts: readonly Doubt[];
  readonly unusable: readonly Unusable[];
  readonly unplaced: Findings['unplaced'][number] | null;
}

function judgedLine(
  { line, placed, figures, unusable, remotes }: PlacedLine,
  references: References,
  days: Days,
  settings: Settings,
): JudgedLine {
  const places = placesOf(figures);
  const ladders = laddersOf(places);
  const slopes = ladders.map(ladderSlope).filter((slope) => slope !== null);
  const scored = places.map(
    (place): ScoredPlace => ({ place, score: scorePlace(place, references, days.outings, settings) }),
  );
  const doubts = findDoubts({ line, placed, figures, places: scored, slopes, outings: days.outings, settings });
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
      outings: [...new Set(figures.flatMap(({ reading }) => (reading.outing ? [reading.outing as OutingId] : [])))],
      track: trackVertices(track),
      controls: track.controls.map((control) => ({
        id: control.id,
        chainageM: control.chainageM,
        lon: control.place.lon,
        lat: control.place.lat,
        kind: control.kind,
        source: control.source,
        residualM: null,
        residualSigma: null,
        uncertainty95M: radius95M(control.sigmaM),
      })),
      electrodes: electrodesOf(line, track, figures, remotes),
      midpoints,
      corridors: corridorsOf(scored, stretches, settings),
      tapeGpsScale: track.tapeGpsScale,
      tapeGpsScaleError95: track.tapeGpsScaleError95,
    },
  };
}

function trackVertices(track: Track): readonly TrackVertex[] {
  const corners = new Set([track.fromM, ...track.bends, track.toM]);
  const chainages = [...new Set([...corners, ...track.slopeBreaks])].filter(
    (chainageM) => chainageM >= track.fromM && chainageM <= track.toM,
  );
  return chainages
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
    ratio: score.ratio,
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
