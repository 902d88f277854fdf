import { medianOf, medianVariance } from '../evidence/robust';
import type { Findings, LineFindings, MidpointFinding, ReferenceBasis, Settings } from '../findings';
import { twoProbeFactorM } from '../ground/geometric-factor';
import type { Layout } from '../ground/layout';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Outing, Reading, Survey } from '../survey/survey';
import { chainageList, metres } from '../survey/wording';
import { ownSigmaOf } from './own-sigma';

/** A spacing of a ladder, its repeats pooled. */
export interface Rung {
  readonly spacingM: number;
  readonly layout: Layout;
  readonly figureOhmM: number;
  /** Standard error of ln(figure) by itself: repeats, meter error, never under the floor that is set. */
  readonly ownSigmaLn: number;
  /** What the reference reads at this spacing; null where none reaches. */
  readonly reference: {
    readonly figureOhmM: number;
    /** Scatter of ln(figure) from station to station of the reference. */
    readonly scatterLn: number;
    readonly stations: number;
    readonly basis: ReferenceBasis;
  } | null;
}

/** A two-probe reading of the line, for what is shared along it. */
export interface ProbePair {
  readonly spacingM: number;
  readonly midpointM: number;
  readonly probesM: readonly [number, number];
  readonly seatings: readonly [string | null, string | null];
  readonly resistanceOhm: number;
}

/** Everything that the study `sounding` is computed from: plain data, so that its hash names the result. */
export interface SoundingInput {
  readonly line: string;
  readonly chainageM: number;
  readonly hookup: Hookup;
  readonly rungs: readonly Rung[];
  /** Spacings that were only read over range. */
  readonly overRangeM: readonly number[];
  /** All two-probe readings of the line; empty for other hookups. */
  readonly pairs: readonly ProbePair[];
}

/** Two spacings make a step; three make a ladder. */
const FEWEST_RUNGS = 3;
/** A station is a peg: midpoints within this of it belong to it. */
const STATION_REACH_M = 0.05;
const NEAREST_NAMED = 3;

interface Ladder {
  readonly chainageM: number;
  readonly hookup: Hookup;
  readonly midpoints: readonly MidpointFinding[];
}

/**
 * The ladder of a line at a chainage as it was appraised. Where a station was read by several hookups, the one asked for,
 * else four electrodes or pole-pole before two-probe, and more spacings before fewer.
 * Refusals: `no_such_line` (with the lines that there are), `no_ladder_here` (with the nearest chainages that have one).
 */
export function soundingInput(
  survey: Survey,
  findings: Findings,
  lineName: string,
  chainageM: number,
  hookup: Hookup | null = null,
): Outcome<SoundingInput> {
  const line = findings.lines.find(({ name }) => name === lineName);
  if (!line) {
    const unplaced = findings.unplaced.find(({ name }) => name === lineName);
    if (unplaced) return refuse('line_not_placed', `Line ${lineName} has no place yet: ${unplaced.sentence}`);
    const names = findings.lines.map(({ name }) => name).join(', ');
    return refuse('no_such_line', `There is no line ${lineName} here. Lines: ${names || 'none'}.`);
  }
  const ladders = laddersOf(line).filter((ladder) => hookup === null || ladder.hookup === hookup);
  const here = ladders.filter((ladder) => Math.abs(ladder.chainageM - chainageM) <= STATION_REACH_M).sort(preferred);
  const [ladder] = here;
  if (!ladder) {
    const near = [...new Set(ladders.map((one) => one.chainageM))]
      .sort((p, q) => Math.abs(p - chainageM) - Math.abs(q - chainageM))
      .slice(0, NEAREST_NAMED);
    const where = near.length > 0 ? `The nearest are at ${chainageList(near)}.` : 'It has none.';
    return refuse(
      'no_ladder_here',
      `Line ${lineName} has no ladder at ${metres(chainageM)}: that takes ${FEWEST_RUNGS} spacings or more at one midpoint. ${where}`,
    );
  }
  const readings = new Map<string, Reading>(survey.readings.map((reading) => [reading.id, reading]));
  const outings = new Map<string, Outing>(survey.outings.map((outing) => [outing.id, outing]));
  const { settings } = findings.provenance;
  const rungs = ladder.midpoints.flatMap((midpoint) => rungOf(midpoint, readings, outings, settings) ?? []);
  return done({
    line: line.name,
    chainageM: ladder.chainageM,
    hookup: ladder.hookup,
    rungs,
    overRangeM: ladder.midpoints.flatMap(({ figureAboveOhmM, spacingM }) =>
      figureAboveOhmM !== null && spacingM !== null ? [spacingM] : [],
    ),
    pairs: isTwoProbe(ladder.hookup) ? pairsOf(line, readings) : [],
  });
}

const preferred = (p: Ladder, q: Ladder): number =>
  Number(isTwoProbe(p.hookup)) - Number(isTwoProbe(q.hookup)) || q.midpoints.length - p.midpoints.length;

function laddersOf(line: LineFindings): Ladder[] {
  const groups = new Map<string, MidpointFinding[]>();
  for (const midpoint of line.midpoints) {
    if (midpoint.spacingM === null) continue;
    const key = `${midpoint.hookup}:${Math.round(midpoint.chainageM * 1000)}`;
    const group = groups.get(key);
    if (group) group.push(midpoint);
    else groups.set(key, [midpoint]);
  }
  return [...groups.values()].flatMap((midpoints) => {
    const read = new Set(midpoints.flatMap(({ figureOhmM, spacingM }) => (figureOhmM === null ? [] : [spacingM])));
    const [first] = midpoints;
    if (!first || read.size < FEWEST_RUNGS) return [];
    const sorted = [...midpoints].sort((p, q) => (p.spacingM ?? 0) - (q.spacingM ?? 0));
    return [{ chainageM: first.chainageM, hookup: first.hookup, midpoints: sorted }];
  });
}

function rungOf(
  midpoint: MidpointFinding,
  readings: ReadonlyMap<string, Reading>,
  outings: ReadonlyMap<string, Outing>,
  settings: Settings,
): Rung | null {
  const { spacingM, figureOhmM, aM, bM, mM, nM } = midpoint;
  if (spacingM === null || figureOhmM === null || (aM === null && bM === null)) return null;
  const ownSigmaLn = ownSigmaOf(midpoint, readings, outings, settings);
  return {
    spacingM,
    layout: { a: aM, b: bM, m: mM, n: nM },
    figureOhmM,
    ownSigmaLn,
    reference: referenceOf(midpoint, ownSigmaLn),
  };
}

/** What the score has joined is taken apart again: own error, and the reference's scatter with that of its median. */
function referenceOf(midpoint: MidpointFinding, ownSigmaLn: number): Rung['reference'] {
  const { referenceOhmM, referenceStations, referenceBasis, ratio, ratioStandardError } = midpoint;
  if (referenceOhmM === null || ratio === null || ratioStandardError === null) return null;
  const stations = referenceStations ?? 1;
  const joined = (ratioStandardError / ratio) ** 2 - ownSigmaLn ** 2;
  const scatterLn = Math.sqrt(Math.max(0, joined) / (1 + medianVariance(stations)));
  return { figureOhmM: referenceOhmM, scatterLn, stations, basis: referenceBasis };
}

function pairsOf(line: LineFindings, readings: ReadonlyMap<string, Reading>): ProbePair[] {
  return line.midpoints.flatMap((midpoint): ProbePair[] => {
    const { spacingM, figureOhmM, aM, bM, chainageM, hookup } = midpoint;
    if (!isTwoProbe(hookup) || spacingM === null || figureOhmM === null || aM === null || bM === null) return [];
    const pooled = { spacingM, midpointM: chainageM, probesM: [aM, bM] as const };
    const resistanceOhm = figureOhmM / twoProbeFactorM(spacingM);
    const own = midpoint.readings.flatMap((id) => readings.get(id) ?? []).filter(isRead);
    // Repeats on other seatings are other contacts: each by itself, where they are on one footing.
    if (own.length === 0 || !own.every((reading) => isLike(reading, own[0] as Reading))) {
      return [{ ...pooled, seatings: [null, null], resistanceOhm }];
    }
    const middle = middleLn(own.map(({ value }) => Math.log(value as number)));
    return own.map(({ value, seatings }) => ({
      ...pooled,
      seatings: [seatings?.[0] ?? null, seatings?.[1] ?? null],
      resistanceOhm: (resistanceOhm * (value as number)) / Math.exp(middle),
    }));
  });
}

const isRead = ({ status, value }: Reading): boolean => status === 'ok' && value !== null && value > 0;
const isLike = (p: Reading, q: Reading): boolean =>
  p.unit === q.unit &&
  (p.current_ma ?? null) === (q.current_ma ?? null) &&
  (p.meter_spacing_m ?? null) === (q.meter_spacing_m ?? null);

/** As repeats are pooled into the figure: the mean of two, the median of more. */
const middleLn = (values: readonly number[]): number =>
  values.length > 2 ? medianOf(values) : values.reduce((sum, value) => sum + value, 0) / values.length;
