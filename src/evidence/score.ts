import type { Grade, ReferenceBasis, Settings, Sign } from '../findings';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { Outing } from '../survey/survey';
import type { ReadingFigure } from './figure';
import type { Place } from './place';
import type { References } from './reference';
import type { Level } from './reference-curve';
import { medianOf, medianVariance, sampleSigma } from './robust';

/** A place against its reference. Standard error and z are of ln(ratio); `ratioStandardError` is of the ratio itself. */
export interface Score {
  readonly figureOhmM: number | null;
  readonly aboveOhmM: number | null;
  readonly referenceOhmM: number | null;
  readonly basis: ReferenceBasis;
  readonly stations: number | null;
  readonly lnRatio: number | null;
  readonly standardErrorLn: number | null;
  readonly ratio: number | null;
  /** Of a place that was only read over range: the ratio is above this. */
  readonly ratioAbove: number | null;
  readonly ratioStandardError: number | null;
  readonly zScore: number | null;
  readonly grade: Grade | null;
  readonly sign: Sign | null;
}

const WEAKEST: readonly ReferenceBasis[] = [
  'same_day_and_wetting',
  'same_day_other_wetting',
  'other_day',
  'other_day_and_wetting',
  'site_median',
  'none',
];

/**
 * Grade of a ratio. A grade needs |z| ≥ the threshold and a ratio beyond a break (or its inverse).
 * The breaks are wider for two-probe hints, whose figures scatter with every contact.
 */
export function gradeOf(hookup: Hookup, ratio: number, zScore: number, settings: Settings): Grade {
  const size = Math.max(ratio, 1 / ratio);
  const [slight, clear, strong] = isTwoProbe(hookup) ? settings.ratioBreaksTwoProbe : settings.ratioBreaks;
  if (Math.abs(zScore) < settings.zThreshold || size < slight) return 'none';
  return size < clear ? 'slight' : size < strong ? 'clear' : 'strong';
}

/** Relative standard error that one reading is credited with: the floor, or the meter's stated error where larger. */
function readingSigma(outing: Outing | null, settings: Settings): number {
  return Math.max(settings.standardErrorFloor, outing?.meter?.stated_error ?? 0);
}

const lnOf = (figure: ReadingFigure): number => Math.log(figure.figureOhmM as number);

/** What the readings of one place come to together. */
interface Pooled {
  readonly lnFigure: number;
  readonly lnRatio: number | null;
  /** Standard error from the repeats alone. */
  readonly repeatsLn: number;
  /** The least of the levels compared with: what holds for all of the readings. */
  readonly level: Level | null;
}

function single(figure: ReadingFigure, references: References): Pooled {
  const level = references.levelFor(figure);
  const lnFigure = lnOf(figure);
  return { lnFigure, lnRatio: level && lnFigure - level.lnFigure, repeatsLn: 0, level };
}

/** Repeats, each against the reference of its own day and wetting. */
function repeated(figures: readonly ReadingFigure[], references: References): Pooled {
  const lnFigures = figures.map(lnOf);
  const lnFigure = pooledLn(lnFigures);
  const levels = figures.map(references.levelFor);
  const known = levels.filter((level) => level !== null);
  const [first] = known;
  if (!first || known.length < levels.length) return { lnFigure, lnRatio: null, repeatsLn: 0, level: null };
  const lnRatios = known.map((level, i) => (lnFigures[i] as number) - level.lnFigure);
  return {
    lnFigure,
    lnRatio: pooledLn(lnRatios),
    repeatsLn: sampleSigma(lnRatios) * Math.sqrt(medianVariance(lnRatios.length)),
    level: known.reduce(weaker, first),
  };
}

const weaker = (p: Level, q: Level): Level => ({
  lnFigure: p.lnFigure,
  scatterLn: Math.max(p.scatterLn, q.scatterLn),
  stations: Math.min(p.stations, q.stations),
  basis: WEAKEST.indexOf(q.basis) > WEAKEST.indexOf(p.basis) ? q.basis : p.basis,
});

function pooledLn(values: readonly number[]): number {
  if (values.length >= 3) return medianOf(values);
  return ((values[0] as number) + (values[values.length - 1] as number)) / 2;
}

/**
 * Pools the repeats of a place and compares them with the reference.
 * The standard error joins the reading's own (never under the floor; of repeats that of their mean, or of their median
 * where there are three or more) with the reference's scatter from station to station, since the question is how unusual
 * this station is among quiet ones.
 */
export function scorePlace(place: Place, references: References, settings: Settings): Score {
  const { counted } = place;
  const [firstCounted] = counted;
  if (!firstCounted) return boundOf(place, references, settings);
  const pooled = counted.length === 1 ? single(firstCounted, references) : repeated(counted, references);
  const figureOhmM = Math.exp(pooled.lnFigure);
  const { level, lnRatio } = pooled;
  if (!level || lnRatio === null) return { ...NOTHING, figureOhmM };
  const standardErrorLn = errorLn(
    level,
    Math.max(readingSigma(firstCounted.outing, settings), pooled.repeatsLn),
    settings,
  );
  const ratio = Math.exp(lnRatio);
  const zScore = lnRatio / standardErrorLn;
  return {
    figureOhmM,
    aboveOhmM: null,
    referenceOhmM: figureOhmM / ratio,
    basis: level.basis,
    stations: level.stations,
    lnRatio,
    standardErrorLn,
    ratio,
    ratioAbove: null,
    ratioStandardError: ratio * standardErrorLn,
    zScore,
    grade: gradeOf(place.hookup, ratio, zScore, settings),
    sign: ratio >= 1 ? 'above_reference' : 'below_reference',
  };
}

const NOTHING: Score = {
  figureOhmM: null,
  aboveOhmM: null,
  referenceOhmM: null,
  basis: 'none',
  stations: null,
  lnRatio: null,
  standardErrorLn: null,
  ratio: null,
  ratioAbove: null,
  ratioStandardError: null,
  zScore: null,
  grade: null,
  sign: null,
};

/** Of ln(ratio): the reading's own error, the scatter of stations, and how well their median is known. */
function errorLn(level: Level, ownLn: number, settings: Settings): number {
  const scatter = Math.max(level.scatterLn, settings.standardErrorFloor);
  return Math.sqrt(ownLn ** 2 + scatter ** 2 * (1 + medianVariance(level.stations)));
}

/**
 * A place that was only read over range: its figure is above the limit. Where the limit itself stands out above the
 * reference, so does the place, by its limit at least; where it does not, nothing is said.
 */
function boundOf({ figures, hookup }: Place, references: References, settings: Settings): Score {
  const [first] = figures;
  const limits = figures.flatMap(({ aboveOhmM: above }) => (above === null ? [] : [above]));
  const aboveOhmM = limits.length > 0 ? Math.max(...limits) : null;
  const level = first ? references.levelFor(first) : null;
  if (!first || !level) return { ...NOTHING, aboveOhmM };
  const known = {
    ...NOTHING,
    aboveOhmM,
    referenceOhmM: Math.exp(level.lnFigure),
    basis: level.basis,
    stations: level.stations,
  };
  if (aboveOhmM === null) return known;
  const lnBound = Math.log(aboveOhmM) - level.lnFigure;
  const ratioAbove = Math.exp(lnBound);
  if (lnBound <= 0) return { ...known, ratioAbove };
  const standardErrorLn = errorLn(level, readingSigma(first.outing, settings), settings);
  const grade = gradeOf(hookup, ratioAbove, lnBound / standardErrorLn, settings);
  if (grade === 'none') return { ...known, ratioAbove };
  return { ...known, ratioAbove, grade, sign: 'above_reference' };
}
