import type { LineFindings, MidpointFinding } from '../../src/findings';
import type { LineId } from '../../src/survey/ids';

/** A pole-pole midpoint that reads like its reference of 400 Ω·m, but for what is said. */
export function madeFinding(said: Partial<MidpointFinding> & { chainageM: number }): MidpointFinding {
  const spacingM = said.spacingM === undefined ? 2 : said.spacingM;
  const hookup = said.hookup ?? 'pole_pole';
  return {
    key: `line-x:${Math.round(said.chainageM * 1000)}:${spacingM === null ? '' : Math.round(spacingM * 1000)}:${hookup}`,
    lineId: 'line-x' as LineId,
    spacingM,
    hookup,
    readings: [],
    readingCount: 1,
    figureKind: 'apparent_resistivity',
    figureOhmM: 400,
    figureAboveOhmM: null,
    referenceOhmM: 400,
    referenceBasis: 'same_day_and_wetting',
    referenceStations: 5,
    ratio: 1,
    ratioStandardError: 0.05,
    zScore: 0,
    stepRatio: null,
    grade: 'none',
    sign: 'above_reference',
    depthM: null,
    depthRule: 'median',
    aM: said.chainageM - 1,
    bM: null,
    mM: said.chainageM + 1,
    nM: null,
    lon: 0,
    lat: 0,
    uncertainty95M: 0.5,
    measuredAt: null,
    fromM: said.chainageM - 0.5,
    toM: said.chainageM + 0.5,
    doubts: [],
    ...said,
  };
}

/** A place that was only read over range. */
export const OVER_RANGE: Partial<MidpointFinding> = {
  figureOhmM: null,
  ratio: null,
  ratioStandardError: null,
  zScore: null,
  grade: null,
  sign: null,
  doubts: ['over_range'],
};

/** Judged like this, its standard error being 5 %. */
export function judged(ratio: number, grade: MidpointFinding['grade']): Partial<MidpointFinding> {
  return {
    figureOhmM: 400 * ratio,
    ratio,
    ratioStandardError: 0.05 * ratio,
    grade,
    sign: ratio < 1 ? 'below_reference' : 'above_reference',
  };
}

/** A line of 0 to 20 m with a bend at 8 m. */
export function madeLineFindings(
  midpoints: readonly MidpointFinding[],
  said: Partial<LineFindings> = {},
): LineFindings {
  const vertex = (chainageM: number, corner: boolean) => ({ chainageM, lon: 0, lat: 0, corner });
  const probe = (chainageM: number) => ({
    chainageM,
    role: 'probe' as const,
    remoteRole: null,
    lon: 0,
    lat: 0,
    elevationM: null,
    readingCount: 1,
    uncertainty95M: 0.5,
  });
  return {
    lineId: 'line-x' as LineId,
    name: 'X',
    hookups: ['pole_pole'],
    lengthM: 20,
    readingCount: midpoints.length,
    outings: [],
    track: [vertex(-1, false), vertex(0, true), vertex(4, false), vertex(8, true), vertex(20, true)],
    controls: [],
    electrodes: [probe(9), probe(11)],
    midpoints,
    corridors: [],
    tapeGpsScale: null,
    tapeGpsScaleError95: null,
    ...said,
  };
}
