import { layeredResistanceOhm } from '../../src/ground/layered-earth';
import type { LayeredGround } from '../../src/ground/layered-kernel';
import { type Layout, layoutOf } from '../../src/ground/layout';
import { rodContactOhm as dwightOhm } from '../../src/ground/rod-contact';
import { twoProbeOhm } from '../../src/ground/two-probe';
import { type Place3, pegAt, type TrueLine } from './lines';
import { passageUnder } from './passage';
import { LIMESTONE_OHM_M, type PlanPlace, ROD_LENGTH_M, ROD_RADIUS_M, SOIL_OHM_M, soilThicknessM } from './truth';

/** Where the remote current electrode (B) and the remote potential electrode (N) of a pole-pole outing stand. */
export interface Remotes {
  readonly b: PlanPlace;
  readonly n: PlanPlace;
}

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
function groundUnder(line: TrueLine, layout: Layout): LayeredGround {
  const chainages = onLine(layout);
  const fromM = chainages[0] as number;
  const toM = chainages[chainages.length - 1] as number;
  let sum = 0;
  for (let i = 0; i <= 4; i += 1) {
    const [eastM, northM] = pegAt(line, Math.round((fromM + ((toM - fromM) * i) / 4) * 2) / 2);
    sum += soilThicknessM({ eastM, northM });
  }
  return { resistivitiesOhmM: [SOIL_OHM_M, LIMESTONE_OHM_M], thicknessesM: [sum / 5] };
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
  const layered = layeredResistanceOhm(groundUnder(line, layout), {
    am: distanceM(a, m),
    an: distanceM(a, n),
    bm: distanceM(b, m),
    bn: distanceM(b, n),
  });
  const passageFactor = passageUnder(line).ratio({ a, b, m, n });
  return { ohm: layered * passageFactor, passageFactor };
}

/** Contact of one rod in soil, ohms. */
export function rodContactOhm(): number {
  const contact = dwightOhm({ lengthM: ROD_LENGTH_M, radiusM: ROD_RADIUS_M }, SOIL_OHM_M);
  if (!contact.ok) throw new Error(contact.sentence);
  return contact.value;
}

/** Noise-free R of a two-probe reading: both contacts less the share that the rods have in common. */
export function twoProbeResistanceOhm(contactsOhm: readonly [number, number], spacingM: number): number {
  return twoProbeOhm(contactsOhm[0], contactsOhm[1], SOIL_OHM_M, spacingM);
}
