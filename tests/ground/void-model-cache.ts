import { createVoidModel, type VoidModel, type VoidModelOptions } from '../../src/ground/void-response';
import { proportionsOf, type VoidShape } from '../../src/ground/void-shape';
import type { Outcome } from '../../src/survey/outcome';

/** Models that were asked for last, so that a shape over depth is cut and factorised once; held by the caller. */
export interface VoidModelCache {
  /** As `createVoidModel`. */
  modelOf(shape: VoidShape, depthM: number, options?: VoidModelOptions): Outcome<VoidModel>;
}

/** `most`: models kept; the one not asked for longest goes first. A refined passage may hold 110 MB, a refined chamber 10 MB. */
export function createVoidModelCache(most = 4): VoidModelCache {
  const kept = new Map<string, Outcome<VoidModel>>();
  return {
    modelOf(shape, depthM, options = {}) {
      const proportions = proportionsOf(shape, depthM);
      if (!proportions.ok) return proportions;
      const { quarterTurn, refine = true, mostPanels } = options;
      const key = [proportions.value.key, quarterTurn, refine, mostPanels].join(' ');
      const model = kept.get(key) ?? createVoidModel(shape, depthM, options);
      kept.delete(key);
      kept.set(key, model);
      const [oldest] = kept.keys();
      if (kept.size > most && oldest !== undefined) kept.delete(oldest);
      return model;
    },
  };
}
