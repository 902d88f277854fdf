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
 * Soil thickness other than the reference's (over layered ground), or a top layer where the reference has none: the best
 * within bounds.
 */
export function otherLayer(
  errors: LadderErrors,
  lnRatio: Float64Array,
  ground: LayeredGround,
  layouts: readonly Layout[],
): Rival & { readonly thicknessFactor: number | null } {
  const readings = layeredReadings(layouts.map(nominalDistances), FITTING_RULE);
  const usual = new Float64Array(layouts.length);
  readings.respond(ground, usual);
  const other = new Float64Array(layouts.length);
  const rest = new Float64Array(layouts.length);
  let best = Infinity;
  let thicknessFactor: number | null = null;
  const tryOut = (tried: LayeredGround, factor: number | null): void => {
    readings.respond(tried, other);
    for (let k = 0; k < rest.length; k += 1) {
      rest[k] = (lnRatio[k] as number) - Math.log((other[k] as number) / (usual[k] as number));
    }
    const chiSquare = errors.chiSquare(rest);
    if (chiSquare < best) {
      best = chiSquare;
      thicknessFactor = factor;
    }
  };
  if (ground.thicknessesM.length > 0) {
    for (let i = 0; i < THICKNESSES; i += 1) {
      const factor = THICKEST ** ((2 * i) / (THICKNESSES - 1) - 1);
      tryOut(thickened(ground, factor), factor);
    }
    return { chiSquare: best, parameters: 2, thicknessFactor };
  }
  const spans = layouts.flatMap((layout) => Object.values(nominalDistances(layout)).filter(Number.isFinite));
  const [shortestM, longestM] = [Math.min(...spans), Math.max(...spans)];
  for (let i = 0; i < TOP_LAYERS; i += 1) {
    const thickness = (shortestM / 10) * ((10 * longestM) / shortestM) ** (i / (TOP_LAYERS - 1));
    for (const contrast of CONTRASTS) {
      const [base = 1] = ground.resistivitiesOhmM;
      tryOut({ resistivitiesOhmM: [base * contrast, base], thicknessesM: [thickness] }, null);
    }
  }
  return { chiSquare: best, parameters: 3, thicknessFactor };
}

/** Contact tried: shares of the widest reading from next to nothing to nearly all (choice). */
const SHARES = 80;

/**
 * A part C ≥ 0 of R that no spacing changes: contact that has got into a pole-pole reading. The ratio is then
 * 1 + C·K/ρ(reference). Shares are those of C in each reading, with their 95 % range by profile likelihood.
 */
export function contactPart(
  errors: LadderErrors,
  lnRatio: Float64Array,
  factorsM: readonly number[],
  referencesOhmM: readonly number[],
): Rival & { readonly shares: readonly { readonly share: number; readonly low95: number; readonly high95: number }[] } {
  const perOhm = factorsM.map((factor, k) => factor / (referencesOhmM[k] as number));
  const most = Math.max(...perOhm);
  const rest = new Float64Array(lnRatio.length);
  const tried = Array.from({ length: SHARES }, (_, i) => {
    const share = i / SHARES;
    const constantOhm = share / (1 - share) / most;
    for (let k = 0; k < rest.length; k += 1) {
      rest[k] = (lnRatio[k] as number) - Math.log1p(constantOhm * (perOhm[k] as number));
    }
    return { constantOhm, chiSquare: errors.chiSquare(rest) };
  });
  const best = tried.reduce((p, q) => (q.chiSquare < p.chiSquare ? q : p));
  const within = tried.filter(({ chiSquare }) => chiSquare <= best.chiSquare + PROFILE_95);
  const [low, high] = [within[0] ?? best, within[within.length - 1] ?? best];
  const shares = perOhm.map((each) => {
    const of = (ohm: number): number => (ohm * each) / (1 + ohm * each);
    return { share: of(best.constantOhm), low95: of(low.constantOhm), high95: of(high.constantOhm) };
  });
  return { chiSquare: best.chiSquare, parameters: 2, shares };
}

/** 95 % point of χ² with one degree of freedom: 1.96². */
export const PROFILE_95 = 3.841458820694124;
