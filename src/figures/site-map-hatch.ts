import type { ZoneVerdict } from '../findings';
import type { SiteMapLook } from './site-map-look';
import { element, type SvgElement } from './svg';

/** Which hatch an area has: every one differs without its colour. */
export type Hatch = ZoneVerdict | 'hint' | 'setback' | 'unsurveyed';
export const HATCHES: readonly Hatch[] = [
  'void_like',
  'layer_like',
  'contact_like',
  'unresolved',
  'hint',
  'setback',
  'unsurveyed',
];

const strokes: Readonly<Record<Exclude<Hatch, 'contact_like'>, { d: string; width: number; size: number }>> = {
  void_like: { d: 'M0 0L7 7M7 0L0 7', width: 1.5, size: 7 },
  layer_like: { d: 'M0 3.5H7', width: 1.5, size: 7 },
  unresolved: { d: 'M-1 1L1 -1M0 7L7 0M6 8L8 6', width: 1.4, size: 7 },
  hint: { d: 'M0 0V3.5', width: 1.2, size: 7 },
  setback: { d: 'M0 0H5', width: 1, size: 10 },
  unsurveyed: { d: 'M-2 2L2 -2M0 12L12 0M10 14L14 10', width: 0.8, size: 12 },
};

export const hatchColour = (hatch: Hatch, look: SiteMapLook): string =>
  hatch === 'setback'
    ? look.accent
    : hatch === 'unsurveyed'
      ? look.rule
      : look.zone[hatch === 'hint' ? 'unresolved' : hatch];

/** The patterns of all hatches; the ids begin with `prefix`, for two maps in one page. */
export const hatchPatterns = (prefix: string, look: SiteMapLook): SvgElement[] =>
  HATCHES.map((hatch) => {
    const colour = hatchColour(hatch, look);
    const size = hatch === 'contact_like' ? 7 : strokes[hatch].size;
    return element(
      'pattern',
      { id: `${prefix}-${hatch}`, class: 'hatch', width: size, height: size, patternUnits: 'userSpaceOnUse' },
      hatch === 'contact_like'
        ? [element('circle', { cx: 3.5, cy: 3.5, r: 1.4, fill: colour })]
        : [
            element('path', {
              d: strokes[hatch].d,
              stroke: colour,
              'stroke-width': strokes[hatch].width,
              fill: 'none',
            }),
          ],
    );
  });
