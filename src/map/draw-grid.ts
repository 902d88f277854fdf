import type { FeatureCollection } from 'geojson';
import { type LocalPlane, localPlane } from './local-plane';
import type { MapEngine } from './map-engine';
import { metreGrid } from './metre-grid';
import { EMPTY_COLLECTION } from './picture';
import { metresPerPixelAt, middleOf, sizeOf } from './screen-ground';

export interface ViewScale {
  readonly metresPerPixel: number;
  /** Distance between grid lines; null when there are none. */
  readonly gridStepM: number | null;
}

export interface GridDrawing {
  /** The metre grid of what is in sight, and its scale. */
  draw(): void;
  /** Counts the grid from the first place of the first line. */
  countFrom(lineStarts: FeatureCollection): void;
}

export function gridDrawing(
  engine: MapEngine,
  setSource: (name: 'grid' | 'grid_labels', data: FeatureCollection) => void,
  onScale: (scale: ViewScale) => void,
): GridDrawing {
  let plane: LocalPlane | null = null;
  let origin: string | null | undefined;

  function draw(): void {
    const { width, height } = sizeOf(engine);
    if (width === 0 || height === 0) return;
    const metresPerPixel = metresPerPixelAt(engine, middleOf(engine));
    const topLeft = engine.unproject([0, 0]);
    const topRight = engine.unproject([width, 0]);
    const bottomLeft = engine.unproject([0, height]);
    const grid = plane
      ? metreGrid(plane, {
          west: topLeft.lng,
          north: topLeft.lat,
          south: bottomLeft.lat,
          east: topRight.lng,
          metresPerPixel,
        })
      : null;
    setSource('grid', grid?.lines ?? EMPTY_COLLECTION);
    setSource('grid_labels', grid?.labels ?? EMPTY_COLLECTION);
    onScale({ metresPerPixel, gridStepM: grid?.stepM ?? null });
  }

  return {
    draw,
    countFrom(lineStarts) {
      const start = lineStarts.features[0]?.geometry;
      const [lon = 0, lat = 0] = start?.type === 'Point' ? start.coordinates : [];
      const next = start ? `${lon} ${lat}` : null;
      if (next === origin) return;
      origin = next;
      plane = next === null ? null : localPlane(lon, lat);
      draw();
    },
  };
}
