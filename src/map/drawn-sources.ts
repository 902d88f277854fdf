import type { FeatureCollection } from 'geojson';
import type { LayerSpecification } from 'maplibre-gl';
import type { MapEngine } from './map-engine';
import type { SourceName } from './map-sources';

/** What the map has of each source. */
export interface DrawnSources {
  set(name: SourceName, data: FeatureCollection): void;
  /** Sets it as soon as the map is near enough for anybody to see it. */
  setWhenSeen(name: SourceName, data: FeatureCollection): void;
  /** The map has nothing of it any more. */
  forget(): void;
}

/** How much before a source is first seen the map gets it. */
const ZOOMS_AHEAD = 1;

export function drawnSources(
  engine: MapEngine,
  layers: readonly LayerSpecification[],
  mayDraw: () => boolean,
): DrawnSources {
  const layersOf = layersBySource(layers);
  const onMap = new Map<SourceName, FeatureCollection>();
  const waiting = new Map<SourceName, FeatureCollection>();

  /** Tiles are cut and a frame drawn anew for a source that is set: what did not change is left alone. */
  function set(name: SourceName, data: FeatureCollection): void {
    if (!mayDraw()) return;
    const before = onMap.get(name);
    if (before && isSameDrawing(before, data)) return;
    onMap.set(name, data);
    engine.getSource(name)?.setData(data);
    const isEmpty = data.features.length === 0;
    if (before ? (before.features.length === 0) === isEmpty : !isEmpty) return;
    // A layer costs a pass over the whole screen even where it has nothing to draw.
    for (const { id } of layersOf.get(name) ?? []) {
      engine.setLayoutProperty(id, 'visibility', isEmpty ? 'none' : 'visible');
    }
  }

  function setSeen(): void {
    const zoom = engine.getZoom();
    for (const [name, data] of waiting) {
      const seenFrom = Math.min(...(layersOf.get(name) ?? []).map(({ minzoom = 0 }) => minzoom));
      if (data.features.length > 0 && zoom < seenFrom - ZOOMS_AHEAD) continue;
      waiting.delete(name);
      set(name, data);
    }
  }
  engine.on('move', setSeen);

  return {
    set,
    setWhenSeen(name, data) {
      waiting.set(name, data);
      setSeen();
    },
    forget: () => onMap.clear(),
  };
}

function layersBySource(layers: readonly LayerSpecification[]): ReadonlyMap<string, readonly LayerSpecification[]> {
  const drawing = new Map<string, LayerSpecification[]>();
  for (const layer of layers) {
    if (!('source' in layer)) continue;
    const others = drawing.get(layer.source);
    if (others) others.push(layer);
    else drawing.set(layer.source, [layer]);
  }
  return drawing;
}

/** The same features in the same order. Those of a line that an edit touched come anew, most of them as they were. */
function isSameDrawing(p: FeatureCollection, q: FeatureCollection): boolean {
  return (
    p.features.length === q.features.length &&
    p.features.every((feature, i) => feature === q.features[i] || isEqual(feature, q.features[i]))
  );
}

const isEqual = (p: unknown, q: unknown): boolean => JSON.stringify(p) === JSON.stringify(q);
