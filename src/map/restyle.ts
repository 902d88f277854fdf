import type { FilterSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapEngine } from './map-engine';

export type StyleChange =
  | { readonly kind: 'paint' | 'layout'; readonly layer: string; readonly name: string; readonly value: unknown }
  | { readonly kind: 'filter'; readonly layer: string; readonly filter: FilterSpecification | null };

/** What must be set for layers that look like `before` to look like `after`. Both hold the same layers. Pure. */
export function restyle(before: readonly LayerSpecification[], after: readonly LayerSpecification[]): StyleChange[] {
  const old = new Map(before.map((layer) => [layer.id, layer]));
  return after.flatMap((layer): StyleChange[] => {
    const was = old.get(layer.id);
    if (!was) return [];
    return [
      ...filterChange(was, layer),
      ...(['layout', 'paint'] as const).flatMap((kind) =>
        changedProperties(was[kind], layer[kind]).map(([name, value]) => ({ kind, layer: layer.id, name, value })),
      ),
    ];
  });
}

/** Makes layers of the map that look like `before` look like `after`. */
export function repaint(
  engine: Pick<MapEngine, 'setFilter' | 'setPaintProperty' | 'setLayoutProperty'>,
  before: readonly LayerSpecification[],
  after: readonly LayerSpecification[],
): void {
  for (const change of restyle(before, after)) {
    if (change.kind === 'filter') engine.setFilter(change.layer, change.filter);
    else if (change.kind === 'paint') engine.setPaintProperty(change.layer, change.name, change.value);
    else engine.setLayoutProperty(change.layer, change.name, change.value);
  }
}

function filterChange(was: LayerSpecification, layer: LayerSpecification): StyleChange[] {
  const before = 'filter' in was ? was.filter : undefined;
  const after = 'filter' in layer ? layer.filter : undefined;
  if (JSON.stringify(before) === JSON.stringify(after)) return [];
  return [{ kind: 'filter', layer: layer.id, filter: after ?? null }];
}

function changedProperties(before: object | undefined, after: object | undefined): [string, unknown][] {
  const old = new Map<string, unknown>(Object.entries(before ?? {}));
  const now = new Map<string, unknown>(Object.entries(after ?? {}));
  const names = new Set([...old.keys(), ...now.keys()]);
  return [...names]
    .filter((name) => JSON.stringify(old.get(name)) !== JSON.stringify(now.get(name)))
    .map((name) => [name, now.get(name)]);
}
