import type { LineFindings, MidpointFinding, ReferenceCurve } from '../findings';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { Reading } from '../survey/survey';
import { isOverRange, type MarkKey, markKey } from './mark-key';
import { type RepeatMark, repeatMarks } from './repeat-marks';

/** One spacing of a ladder. */
export interface LadderPoint {
  /** The key of its midpoint finding: what a mark links to. */
  readonly sid: string;
  readonly spacingM: number;
  /** Null where no value was shown. */
  readonly figureOhmM: number | null;
  /** Over range: the figure is above this. */
  readonly aboveOhmM: number | null;
  readonly overRange: boolean;
  readonly ratio: number | null;
  readonly ratioStandardError: number | null;
  readonly referenceOhmM: number | null;
  readonly key: MarkKey;
  readonly repeats: readonly RepeatMark[];
}

/** The reference at one spacing. */
export interface ReferencePoint {
  readonly spacingM: number;
  readonly levelOhmM: number;
  /** Half-width of the band, in ln of the figure; null where only the level is known. */
  readonly halfWidthLn: number | null;
  /** `scatter`: of the stations; `standard_error`: of the reading's own ratio, which holds the scatter and more. */
  readonly basis: 'scatter' | 'standard_error' | 'none';
}

/** The readings at one midpoint at growing spacings, with what they are compared with. */
export interface LadderData {
  readonly line: string;
  readonly chainageM: number;
  readonly hookup: Hookup;
  readonly twoProbe: boolean;
  /** By growing spacing. */
  readonly points: readonly LadderPoint[];
  /** By growing spacing; may have spacings that were not read here. */
  readonly reference: readonly ReferencePoint[];
}

/** Midpoints this near belong to one place. */
const ONE_PLACE_M = 0.1;
/** Levels this near, in ln, are the same level. */
const SAME_LEVEL_LN = 1e-6;

/**
 * The ladder of one hookup at a chainage (m) of a line. Readings whose spacing was not said are in none.
 * `references` are those of the findings, `readings` those of the survey.
 */
export function ladderData(
  line: LineFindings,
  chainageM: number,
  hookup: Hookup,
  references: readonly ReferenceCurve[],
  readings: readonly Reading[],
): LadderData {
  const here = line.midpoints
    .filter((finding) => finding.hookup === hookup && Math.abs(finding.chainageM - chainageM) < ONE_PLACE_M)
    .flatMap((finding) => (finding.spacingM === null ? [] : [{ finding, spacingM: finding.spacingM }]))
    .sort((p, q) => p.spacingM - q.spacingM);
  const wanted = new Set(here.flatMap(({ finding }) => finding.readings));
  const own = new Map(readings.filter(({ id }) => wanted.has(id)).map((reading) => [reading.id, reading]));
  return {
    line: line.name,
    chainageM,
    hookup,
    twoProbe: isTwoProbe(hookup),
    points: here.map(({ finding, spacingM }) => ({
      sid: finding.key,
      spacingM,
      figureOhmM: finding.figureOhmM,
      aboveOhmM: finding.figureAboveOhmM,
      overRange: isOverRange(finding),
      ratio: finding.ratio,
      ratioStandardError: finding.ratioStandardError,
      referenceOhmM: finding.referenceOhmM,
      key: markKey(finding),
      repeats: repeatMarks(
        finding,
        finding.readings.flatMap((id) => own.get(id) ?? []),
      ),
    })),
    reference: referenceBand(here, references, isTwoProbe(hookup) ? 'two_probe' : hookup),
  };
}

interface AtSpacing {
  readonly finding: MidpointFinding;
  readonly spacingM: number;
}

/**
 * What each reading was really compared with. Its curve is known by its level; where one curve serves all spacings of
 * the ladder, its other spacings are shown too, since they tell what to expect there.
 */
function referenceBand(
  here: readonly AtSpacing[],
  references: readonly ReferenceCurve[],
  family: Hookup,
): readonly ReferencePoint[] {
  const curves = references.filter((curve) => curve.hookup === family);
  const compared = here.filter(({ finding }) => finding.referenceOhmM !== null);
  const band = new Map<number, ReferencePoint>();
  for (const place of compared) {
    const at = referenceAt(place, curves);
    if (at) band.set(millimetres(place.spacingM), at);
  }
  const one = curves.find((curve) => compared.length > 0 && compared.every((place) => pointOn(curve, place) !== null));
  for (const { spacingM, figureOhmM, scatterLn } of one?.points ?? []) {
    if (spacingM === null || band.has(millimetres(spacingM))) continue;
    band.set(millimetres(spacingM), { spacingM, levelOhmM: figureOhmM, halfWidthLn: scatterLn, basis: 'scatter' });
  }
  return [...band.values()].sort((p, q) => p.spacingM - q.spacingM);
}

const millimetres = (spacingM: number): number => Math.round(spacingM * 1000);

function pointOn(curve: ReferenceCurve, { finding, spacingM }: AtSpacing): ReferenceCurve['points'][number] | null {
  const level = finding.referenceOhmM;
  if (level === null) return null;
  return (
    curve.points.find(
      (point) =>
        point.spacingM !== null &&
        millimetres(point.spacingM) === millimetres(spacingM) &&
        Math.abs(Math.log(point.figureOhmM / level)) < SAME_LEVEL_LN,
    ) ?? null
  );
}

function referenceAt(place: AtSpacing, curves: readonly ReferenceCurve[]): ReferencePoint | null {
  const { finding, spacingM } = place;
  const { referenceOhmM: levelOhmM, ratio, ratioStandardError } = finding;
  if (levelOhmM === null) return null;
  for (const curve of curves) {
    const point = pointOn(curve, place);
    if (point) return { spacingM, levelOhmM, halfWidthLn: point.scatterLn, basis: 'scatter' };
  }
  return ratio !== null && ratioStandardError !== null
    ? { spacingM, levelOhmM, halfWidthLn: ratioStandardError / ratio, basis: 'standard_error' }
    : { spacingM, levelOhmM, halfWidthLn: null, basis: 'none' };
}
