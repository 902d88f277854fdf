import type { LadderErrors } from './ladder-errors';
import { thickened } from './ladder-errors';
import { layeredReadings } from './layered-earth';
import type { LayeredGround } from './layered-kernel';
import { type Layout, nominalDistances } from './layout';
import { FITTING_RULE } from './ray-rule';

/** How well one kind of cause explains a ladder, a free level shift included. */
export interface Rival {
  readonly chiSquare: number;
  /** Parameters fitted, the level shift included. */
  readonly parameters: number;
}

/** Nothing but the reference's own ladder, at another level. */
export function noVoid(errors: LadderErrors, lnRatio: Float64Array): Rival {
  return { chiSquare: errors.chiSquare(lnRatio), parameters: 1 };
}

/** Thickness tried from a fifth to five times that of the reference's uppermost layer (choice). */
const THICKEST = 5;
const THICKNESSES = 61;
/** Over ground without layers: a top layer of these contrasts to what lies under it (choice). */
const CONTRASTS = [0.05, 0.1, 0.2, 0.35, 0.5, 0.7, 0.85, 1.2, 1.5, 2, 3, 5, 10, 20] as const;
const TOP_LAYERS = 24;

/**
 * ln(ratio) of ladders over soil of another thickness than the reference's (over layered ground), or under a top layer
 * where the reference has none; with the factor on the thickness, null where there is none to multiply.
 */
export function otherLayers(
  ground: LayeredGround,
  layouts: readonly Layout[],
): { readonly lnRatio: Float64Array; readonly thicknessFactor: number | null }[] {
  const readings = layeredReadings(layouts.map(nominalDistances), FITTING_RULE);
  const usual = new Float64Array(layouts.length);
  readings.respond(ground, usual);
  const other = new Float64Array(layouts.length);
  const tried = (grounds: LayeredGround, thicknessFactor: number | null) => {
    readings.respond(grounds, other);
    return { lnRatio: other.map((value, k) => Math.log(value / (usual[k] as number))), thicknessFactor };
  };
  if (ground.thicknessesM.length > 0) {
    return Array.from({ length: THICKNESSES }, (_, i) => {
      const factor = THICKEST ** ((2 * i) / (THICKNESSES - 1) - 1);
      return tried(thickened(ground, factor), factor);
    });
  }
  const spans = layouts.flatMap((layout) => Object.values(nominalDistances(layout)).filter(Number.isFinite));
  const [shortestM, longestM] = [Math.min(...spans), Math.max(...spans)];
  const [base = 1] = ground.resistivitiesOhmM;
  return Array.from({ length: TOP_LAYERS }, (_, i) => {
    const thickness = (shortestM / 10) * ((10 * longestM) / shortestM) ** (i / (TOP_LAYERS - 1));
    return CONTRASTS.map((contrast) =>
      tried({ resistivitiesOhmM: [base * contrast, base], thicknessesM: [thickness] }, null),
    );
  }).flat();
}

/** The best of `otherLayers`. */
export function otherLayer(
  errors: LadderErrors,
  lnRatio: Float64Array,
  layers: ReturnType<typeof otherLayers>,
): Rival & { readonly thicknessFactor: number | null } {
  let best = { chiSquare: Infinity, thicknessFactor: null as number | null };
  for (const { lnRatio: other, thicknessFactor } of layers) {
    const chiSquare = errors.chiSquare(lnRatio.map((value, k) => value - (other[k] as number)));
    if (chiSquare < best.chiSquare) best = { chiSquare, thicknessFactor };
  }
  // Where the reference has no layer, a thickness and a contrast.
  return { ...best, parameters: best.thicknessFactor === null ? 3 : 2 };
}

/** Contact tried: shares of the widest reading from next to nothing to nearly all (choice). */
const SHARES = 80;

/**
 * A part C ≥ 0 of R that no spacing changes, alone: contact that has got into a pole-pole reading. The ratio is then
 * 1 + C·`perOhm`, which is K/ρ(reference).
 */
export function contactAlone(errors: LadderErrors, lnRatio: Float64Array, perOhm: readonly number[]): Rival {
  const most = Math.max(...perOhm);
  const rest = new Float64Array(lnRatio.length);
  let lowest = Infinity;
  for (let i = 0; i < SHARES; i += 1) {
    const contactOhm = i / (SHARES - i) / most;
    for (let k = 0; k < rest.length; k += 1) {
      rest[k] = (lnRatio[k] as number) - Math.log1p(contactOhm * (perOhm[k] as number));
    }
    lowest = Math.min(lowest, errors.chiSquare(rest));
  }
  return { chiSquare: lowest, parameters: 2 };
}

/** 95 % point of χ² with one degree of freedom: 1.96². */
export const PROFILE_95 = 3.841458820694124;
