import table from '../../styles/ramp.json' with { type: 'json' };
import type { MarkKey } from './mark-key';
import type { FeatureGlyph } from './site-map-data';
import { featureGlyph } from './site-map-glyph';
import { type Hatch, hatchColour, hatchPatterns } from './site-map-hatch';
import type { SiteMapLook } from './site-map-look';
import { element, figureText, type SvgNode } from './svg';

/** What a legend of the map can show a sample of. */
export type MapKeyItem =
  | { readonly kind: 'hatch'; readonly hatch: Hatch }
  | { readonly kind: 'mark'; readonly key: MarkKey }
  | { readonly kind: 'glyph'; readonly glyph: FeatureGlyph }
  | { readonly kind: 'corridor' }
  | { readonly kind: 'line' };

const WIDTH_PX = 34;
const HEIGHT_PX = 20;

/** A small sample of one thing on the map, as it is drawn there. `prefix` keeps its ids apart from those of the map. */
export function mapSample(item: MapKeyItem, words: string, look: SiteMapLook, prefix: string): string {
  return figureText({
    widthPx: WIDTH_PX,
    heightPx: HEIGHT_PX,
    title: words,
    summary: words,
    children: sample(item, look, prefix),
  });
}

function sample(item: MapKeyItem, look: SiteMapLook, prefix: string): readonly SvgNode[] {
  const box = { x: 1.5, y: 1.5, width: WIDTH_PX - 3, height: HEIGHT_PX - 3 };
  const across = `M2 ${HEIGHT_PX / 2}H${WIDTH_PX - 2}`;
  switch (item.kind) {
    case 'hatch': {
      const own = `${prefix}-${item.hatch}`;
      const pattern = hatchPatterns(prefix, look).filter(({ attributes }) => attributes.id === own);
      const edge = item.hatch === 'unsurveyed' ? 'none' : hatchColour(item.hatch, look);
      const dashes = item.hatch === 'hint' ? '4 3' : item.hatch === 'setback' ? '7 4' : null;
      const width = item.hatch === 'void_like' ? 3 : 2;
      return [
        element('defs', {}, pattern),
        element('rect', {
          ...box,
          fill: `url(#${own})`,
          stroke: edge,
          'stroke-width': width,
          'stroke-dasharray': dashes,
        }),
      ];
    }
    case 'mark':
      return [
        element('path', {
          d: across,
          stroke: look.stroke[item.key],
          'stroke-width': table.stroke_width_px[item.key],
          'stroke-dasharray': item.key.endsWith('_below') ? '6 2' : null,
        }),
      ];
    case 'glyph':
      return [
        element('g', { transform: `translate(${WIDTH_PX / 2} ${HEIGHT_PX / 2})` }, [featureGlyph(item.glyph, look)]),
      ];
    case 'corridor':
      return [element('rect', { ...box, fill: look.rule, 'fill-opacity': 0.1, stroke: look.rule })];
    case 'line':
      return [element('path', { d: across, stroke: look.ink, 'stroke-width': 1.5 })];
  }
}
