import type { MapEngine } from './map-engine';

export interface SurfaceEvents {
  /** The device takes the drawing surface away, and the style with it. */
  readonly onLost: () => void;
  /** The surface is there again, and the style as it was; what has changed meanwhile is to be put into that. */
  readonly onBack: () => void;
}

/** Watches the drawing surface of the map; tells whether it is lost just now. */
export function surfaceWatch(engine: MapEngine, { onLost, onBack }: SurfaceEvents): () => boolean {
  let lost = false;
  engine.on('webglcontextlost', () => {
    lost = true;
    onLost();
  });
  // The surface comes back before the style is there again.
  engine.on('style.load', () => {
    if (!lost) return;
    lost = false;
    onBack();
  });
  return () => lost;
}
