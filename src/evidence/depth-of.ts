import type { DepthRule } from '../findings';
import { medianDepthM } from '../ground/depth';
import { nominalDistances } from '../ground/layout';
import { isTwoProbe } from '../survey/hookup';
import type { ReadingFigure } from './figure';

export interface FigureDepth {
  readonly depthM: number | null;
  readonly depthRule: DepthRule | 'none';
}

const NO_DEPTH: FigureDepth = { depthM: null, depthRule: 'none' };

/**
 * The depth that a figure speaks for under the chosen rule; none for a two-probe figure or an unsaid spacing.
 * The rules are for the array as designed: straight, flat, and a remote at its real place counts as infinitely far.
 */
export function depthOf({ hookup, spacingM, layout }: ReadingFigure, rule: DepthRule): FigureDepth {
  if (isTwoProbe(hookup) || spacingM === null || !layout) return NO_DEPTH;
  const depthM = rule === 'half_spacing' ? spacingM / 2 : medianDepthM(nominalDistances(layout));
  return depthM === null ? NO_DEPTH : { depthM, depthRule: rule };
}
