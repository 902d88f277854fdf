import { type Layout, layoutOf } from '../../src/ground/layout';
import { passageResponse, type SurfaceElectrodes } from '../../src/ground/small-void';
import { type TwoLayerGround, twoLayerResistanceOhm } from '../../src/ground/two-layer';
import { PASSAGE_AXIS, type Place3, pegAt, type TrueLine } from './lines';
import {
  LIMESTONE_OHM_M,
  PASSAGE_RADIUS_M,
  type PlanPlace,
  ROD_LENGTH_M,
  ROD_RADIUS_M,
  SOIL_OHM_M,
  soilThicknessM,
} from './truth';

/** Where the remote current electrode (B) and the remote potential electrode (N) of a pole-pole outing stand. */
export interface Remotes {
  readonly b: PlanPlace;
  readonly n: PlanPlace;
}

const PASSAGE = {
  axis: PASSAGE_AXIS.map((point) => point.place),
  radiusM: PASSAGE_RADIUS_M,
  fillOhmM: Infinity,
};

const FAR_HEIGHT_M = 231;
const distanceM = (p: Place3 | null, q: Place3 | null): number =>
  p && q ? Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) : Infinity;

export function layoutAt(line: TrueLine, midpointM: number, spacingM: number): Layout {
  const layout = layoutOf({ hookup: line.hookup, midpointM, spacingM });
  if (!layout.ok) throw new Error(layout.sentence);
  return layout.value;
}

/** Chainages of the electrodes on the line, in order. */
export function onLine(layout: Layout): readonly number[] {
  const chainages = [layout.a, layout.b, layout.m, layout.n].filter((chainage) => chainage !== null);
  return [...new Set(chainages)].sort((p, q) => p - q);
}

/** The 1-D ground that a reading is taken to see: soil of the mean thickness at five places from end to end. */
function groundUnder(line: TrueLine, layout: Layout): TwoLayerGround {
  const chainages = onLine(layout);
  const fromM = chainages[0] as number;
  const toM = chainages[chainages.length - 1] as number;
  let sum = 0;
  for (let i = 0; i <= 4; i += 1) {
    const [eastM, northM] = pegAt(line, Math.round((fromM + ((toM - fromM) * i) / 4) * 2) / 2);
    sum += soilThicknessM({ eastM, northM });
  }
  return { topOhmM: SOIL_OHM_M, baseOhmM: LIMESTONE_OHM_M, topThicknessM: sum / 5 };
}

export interface TrueResistance {
  readonly ohm: number;
  /** What the passage alone multiplies it by. */
  readonly passageFactor: number;
}

/** Noise-free R of a pole-pole or Wenner reading: local layers, true places of all four electrodes, times the passage. */
export function trueResistance(line: TrueLine, layout: Layout, remotes: Remotes | null): TrueResistance {
  const place = (chainageM: number | null, remote: PlanPlace | undefined): Place3 | null =>
    chainageM !== null ? pegAt(line, chainageM) : remote ? [remote.eastM, remote.northM, FAR_HEIGHT_M] : null;
  const a = place(layout.a, undefined) as Place3;
  const m = place(layout.m, undefined) as Place3;
  const b = place(layout.b, remotes?.b);
  const n = place(layout.n, remotes?.n);
  const electrodes: SurfaceElectrodes = { a, b, m, n };
  const layered = twoLayerResistanceOhm(groundUnder(line, layout), {
    am: distanceM(a, m),
    an: distanceM(a, n),
    bm: distanceM(b, m),
    bn: distanceM(b, n),
  });
  const passageFactor = 1 + passageResponse(PASSAGE, LIMESTONE_OHM_M, electrodes);
  return { ohm: layered * passageFactor, passageFactor };
}

/** Contact of one rod in soil, ohms: Rc = ρ/(2πL)·(ln(4L/r) − 1) (Dwight 1936, AIEE Transactions 55:1319). */
export function rodContactOhm(): number {
  return (SOIL_OHM_M / (2 * Math.PI * ROD_LENGTH_M)) * (Math.log((4 * ROD_LENGTH_M) / ROD_RADIUS_M) - 1);
}

/** Noise-free R of a two-probe reading: both contacts less the share that the rods have in common, Rc₁ + Rc₂ − ρ/(πa). */
export function twoProbeResistanceOhm(contactsOhm: readonly [number, number], spacingM: number): number {
  return contactsOhm[0] + contactsOhm[1] - SOIL_OHM_M / (Math.PI * spacingM);
}
