import type { Findings, LineFindings, MidpointFinding, ReferenceCurve } from '../findings';
import { type Hookup, isTwoProbe } from '../survey/hookup';

/** Where the median of a line stands against the scatter of the reference's own stations. */
export type Standing = 'above' | 'within' | 'below' | 'not_compared';

/** One line at one spacing. */
export interface SiteMedian {
  readonly spacingM: number;
  /** Median of the figures of its places. */
  readonly figureOhmM: number;
  readonly places: number;
  /** Median of figure over the reference that each was compared with, a level of the whole line left in; null = none. */
  readonly ratio: number | null;
  readonly standing: Standing;
}

export interface SiteLine {
  readonly name: string;
  /** By growing spacing. */
  readonly medians: readonly SiteMedian[];
  /** Times its reference, the median over its spacings; null = compared with nothing. */
  readonly times: number | null;
}

export interface SiteLevel {
  readonly spacingM: number;
  readonly figureOhmM: number;
}

/** The reference at one spacing, its days and wettings pooled. */
export interface SiteBandPoint extends SiteLevel {
  /** Robust scatter of ln(figure) from station to station. */
  readonly scatterLn: number;
}

/** The lines of one hookup and what they are compared with. */
export interface SiteData {
  /** The one of its family: readings whose hookup was not said are with two-probe ones. */
  readonly hookup: Hookup;
  readonly twoProbe: boolean;
  /** One for each reference, by growing spacing. */
  readonly bands: readonly (readonly SiteBandPoint[])[];
  /** The reference of each day, where there are days to tell apart. */
  readonly days: readonly (readonly SiteLevel[])[];
  /** No reference reaches: the site's own median stands in. */
  readonly ownMedian: boolean;
  /** By name, as people count. */
  readonly lines: readonly SiteLine[];
}

/** One for each hookup that has a reference and a line, in the order in which the lines have them. */
export function siteData({ lines, references }: Findings): SiteData[] {
  const families = [...new Set(lines.flatMap(({ midpoints }) => midpoints.map(({ hookup }) => familyOf(hookup))))];
  return families.flatMap((hookup) => {
    const curves = references.filter((curve) => curve.hookup === hookup && curve.wetting === null);
    const own = curves.filter(({ kind }) => kind === 'reference');
    const pooled = (own.length > 0 ? own : curves).filter(({ day }) => day === null);
    const bands = pooled.map(bandOf).filter((band) => band.length > 0);
    if (bands.length === 0) return [];
    const byDay = own.filter(({ day }) => day !== null);
    const drawn = lines
      .map((line) => siteLine(line, hookup, bands.length === 1 ? (bands[0] ?? []) : bands.flat()))
      .filter(({ medians }) => medians.length > 0)
      .sort((p, q) => p.name.localeCompare(q.name, 'en', { numeric: true }));
    return [
      {
        hookup,
        twoProbe: isTwoProbe(hookup),
        bands,
        days: byDay.length > pooled.length ? byDay.map(levelsOf) : [],
        ownMedian: own.length === 0,
        lines: drawn,
      },
    ];
  });
}

const familyOf = (hookup: Hookup): Hookup => (isTwoProbe(hookup) ? 'two_probe' : hookup);

const bandOf = ({ points }: ReferenceCurve): SiteBandPoint[] =>
  points
    .flatMap(({ spacingM, figureOhmM, scatterLn }) => (spacingM === null ? [] : [{ spacingM, figureOhmM, scatterLn }]))
    .sort((p, q) => p.spacingM - q.spacingM);

const levelsOf = (curve: ReferenceCurve): SiteLevel[] => bandOf(curve);

function siteLine(line: LineFindings, hookup: Hookup, band: readonly SiteBandPoint[]): SiteLine {
  const bySpacing = new Map<number, { figures: number[]; ratios: number[] }>();
  for (const finding of line.midpoints) {
    const { spacingM, figureOhmM } = finding;
    if (spacingM === null || figureOhmM === null || familyOf(finding.hookup) !== hookup) continue;
    const key = millimetres(spacingM);
    const here = bySpacing.get(key) ?? { figures: [], ratios: [] };
    bySpacing.set(key, here);
    here.figures.push(figureOhmM);
    const ratio = ratioAsRead(finding, line);
    if (ratio !== null) here.ratios.push(ratio);
  }
  const medians = [...bySpacing]
    .sort(([p], [q]) => p - q)
    .map(([key, { figures, ratios }]): SiteMedian => {
      const ratio = ratios.length > 0 ? medianOf(ratios) : null;
      // Several references: the widest of their scatters, so that nothing is said to stand out that one of them allows.
      const scatters = band.filter(({ spacingM }) => millimetres(spacingM) === key).map(({ scatterLn }) => scatterLn);
      return {
        spacingM: key / 1000,
        figureOhmM: medianOf(figures),
        places: figures.length,
        ratio,
        standing: standingOf(ratio, scatters),
      };
    });
  const known = medians.flatMap(({ ratio }) => (ratio === null ? [] : [ratio]));
  return { name: line.name, medians, times: known.length > 0 ? medianOf(known) : null };
}

/** Against the reference as it was read: where a level of the whole line was taken out, it is put back. */
function ratioAsRead({ figureOhmM, referenceOhmM, referenceBasis, hookup }: MidpointFinding, line: LineFindings) {
  if (figureOhmM === null || referenceOhmM === null) return null;
  const level = line.levels?.find((one) => one.hookup === hookup && one.takenOut);
  const factor = referenceBasis === 'site_median' ? 1 : (level?.factor ?? 1);
  return (figureOhmM / referenceOhmM) * factor;
}

function standingOf(ratio: number | null, scatters: readonly number[]): Standing {
  if (ratio === null || scatters.length === 0) return 'not_compared';
  const scatter = scatters.reduce((most, value) => Math.max(most, value));
  if (Math.abs(Math.log(ratio)) <= scatter) return 'within';
  return ratio > 1 ? 'above' : 'below';
}

const millimetres = (spacingM: number): number => Math.round(spacingM * 1000);

/** Of values above 0, in their logarithms: between two it takes their geometric mean. */
function medianOf(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  const upper = sorted[sorted.length >> 1] as number;
  return sorted.length % 2 === 1 ? upper : Math.sqrt((sorted[(sorted.length >> 1) - 1] as number) * upper);
}

/** How far a line stands from its reference, in ln; 0 where nothing is known. */
export const farFrom = ({ times }: SiteLine): number => (times === null ? 0 : Math.abs(Math.log(times)));

/** Above the scatter at most of its spacings, or below it at most of them. */
export function standsOut({ medians }: SiteLine): boolean {
  const many = (standing: Standing): boolean =>
    medians.filter((median) => median.standing === standing).length * 2 > medians.length;
  return many('above') || many('below');
}
