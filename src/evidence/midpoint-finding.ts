import type { MidpointFinding, Settings } from '../findings';
import type { Track } from '../position/track';
import type { Doubt, DoubtCode } from '../survey/doubt';
import { isTwoProbe } from '../survey/hookup';
import type { ReadingId } from '../survey/ids';
import { pointOfTime } from '../survey/point-of-time';
import type { Line } from '../survey/survey';
import { depthOf } from './depth-of';
import type { ReadingFigure } from './figure';
import { keyOf, type Place } from './place';
import type { Score } from './score';
import type { Stretch } from './stretch';

/** What the midpoints of a line have in common; stretches and steps by the index of the place. */
export interface MidpointContext {
  readonly line: Line;
  readonly track: Track;
  readonly settings: Settings;
  readonly stretches: readonly Stretch[];
  readonly steps: readonly (number | undefined)[];
  readonly codes: ReadonlyMap<ReadingId, readonly DoubtCode[]>;
}

/** A place as it stands in the findings. */
export function midpointFinding(place: Place, score: Score, context: MidpointContext): MidpointFinding {
  const { line, track, settings, codes } = context;
  const stretch = context.stretches[place.index];
  const first = place.counted[0] ?? (place.figures[0] as ReadingFigure);
  const { lon, lat, uncertainty95M } = track.placeAt(place.chainageM);
  const { depthM, depthRule } = depthOf(first, settings.depthRule);
  return {
    key: keyOf(line.id, place),
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
    stepRatio: context.steps[place.index] ?? null,
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
    fromM: stretch?.fromM ?? place.chainageM,
    toM: stretch?.toM ?? place.chainageM,
    doubts: codesOf(place, codes),
  };
}

function earliest(figures: readonly ReadingFigure[]): string | null {
  let first: string | null = null;
  for (const { reading } of figures) {
    if (reading.time && (first === null || isBefore(reading.time, first))) first = reading.time;
  }
  return first;
}

function isBefore(one: string, other: string): boolean {
  const [p, q] = [pointOfTime(one), pointOfTime(other)];
  return p === null || q === null ? one < other : p < q;
}

const NO_CODES: readonly DoubtCode[] = [];

function codesOf(place: Place, codes: ReadonlyMap<ReadingId, readonly DoubtCode[]>): readonly DoubtCode[] {
  const { figures } = place;
  const [first] = figures;
  if (figures.length === 1 && first) return codes.get(first.reading.id) ?? NO_CODES;
  return [...new Set(figures.flatMap(({ reading }) => codes.get(reading.id) ?? NO_CODES))];
}

/** What each reading is doubted for. */
export function codesByReading(doubts: readonly Doubt[]): ReadonlyMap<ReadingId, readonly DoubtCode[]> {
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
