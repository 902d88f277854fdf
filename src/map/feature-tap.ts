import type { MapEngine } from './map-engine';

interface Found {
  readonly properties: Record<string, unknown>;
  readonly layer: { readonly id: string };
}

/** The `sid` of the feature that was tapped in one of these layers. */
export function featureAt(found: readonly Found[], layers: readonly string[]): string | null {
  const hit = found.find(({ layer, properties }) => layers.includes(layer.id) && typeof properties.sid === 'string');
  return hit ? String(hit.properties.sid) : null;
}

/** Two steps at once: a gathering parts in about as many taps as a person has patience for. */
const STEPS = 2;

/** Comes nearer to a gathering of features that was tapped; whether there was one. */
export function openCluster(
  engine: MapEngine,
  { x, y }: { readonly x: number; readonly y: number },
  found: readonly Found[],
  motion: { readonly animate: boolean; readonly duration: number },
): boolean {
  if (!found.some(({ layer }) => layer.id === 'feature_clusters')) return false;
  const { lng, lat } = engine.unproject([x, y]);
  engine.easeTo({ center: [lng, lat], zoom: engine.getZoom() + STEPS, ...motion });
  return true;
}
