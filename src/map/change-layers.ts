import type { Feature, FeatureCollection } from 'geojson';
import type { LayerSpecification } from 'maplibre-gl';
import { midpointSidOf } from '../exchange/write/layer-collection';
import type { ChangeVerdict } from '../studies/compare';
import type { RampKey } from './ramp';

/** How a change is drawn: as the ramp draws what lies above or below, at one width for each. */
export const CHANGE_RAMP: Readonly<Record<ChangeVerdict, RampKey>> = {
  higher_than_before: 'clear_above',
  lower_than_before: 'clear_below',
  no_change_shown: 'none',
  hint: 'not_graded',
  not_comparable: 'not_graded',
};

/** What is drawn later lies on top. */
const RANK: Readonly<Record<ChangeVerdict, number>> = {
  not_comparable: 0,
  hint: 1,
  no_change_shown: 2,
  lower_than_before: 3,
  higher_than_before: 3,
};

/**
 * The strokes of a survey as they changed since an earlier one: each in the lane that it has, so that a tap still finds
 * its reading. Strokes without a counterpart are left out.
 */
export function changesDrawn(
  segments: FeatureCollection,
  matched: readonly { readonly key: string; readonly verdict: ChangeVerdict }[],
): FeatureCollection {
  const verdicts = new Map(matched.map(({ key, verdict }) => [key, verdict]));
  const drawn = segments.features.flatMap((feature): { rank: number; feature: Feature }[] => {
    const { sid, spacing_m, lane } = feature.properties ?? {};
    const verdict = verdicts.get(midpointSidOf(String(sid)));
    if (!verdict) return [];
    const spacing = spacing_m === undefined ? {} : { spacing_m };
    const properties = { sid, lane, ...spacing, ramp: CHANGE_RAMP[verdict] };
    return [{ rank: RANK[verdict], feature: { ...feature, properties } }];
  });
  drawn.sort((p, q) => p.rank - q.rank);
  return { type: 'FeatureCollection', features: drawn.map(({ feature }) => feature) };
}

/**
 * Each layer of the strokes once more, for the source `changes`. While surveys are compared the strokes themselves are
 * not seen, but still answer to a tap.
 */
export function withChanges(layers: readonly LayerSpecification[], comparing: boolean): LayerSpecification[] {
  return layers.flatMap((layer): LayerSpecification[] => {
    if (layer.type !== 'line' || layer.source !== 'segments') return [layer];
    const change: LayerSpecification = { ...layer, id: `change_${layer.id}`, source: 'changes' };
    return [comparing ? { ...layer, paint: { ...layer.paint, 'line-opacity': 0 } } : layer, change];
  });
}
