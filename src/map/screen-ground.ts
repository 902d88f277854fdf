import { localPlane } from './local-plane';
import type { MapEngine, MapTap } from './map-engine';

/** A place on the map, and how wide a pixel is there. */
export interface MapPlace {
  readonly lon: number;
  readonly lat: number;
  readonly metresPerPixel: number;
}

type Pixel = MapTap['point'];

export function sizeOf(engine: MapEngine): { width: number; height: number } {
  const { clientWidth, clientHeight } = engine.getContainer();
  return { width: clientWidth, height: clientHeight };
}

export function middleOf(engine: MapEngine): Pixel {
  const { width, height } = sizeOf(engine);
  return { x: width / 2, y: height / 2 };
}

export function metresPerPixelAt(engine: MapEngine, { x, y }: Pixel): number {
  const left = engine.unproject([x - 50, y]);
  const right = engine.unproject([x + 50, y]);
  const here = localPlane((left.lng + right.lng) / 2, left.lat);
  return (here.toPlane(right.lng, right.lat).eastM - here.toPlane(left.lng, left.lat).eastM) / 100;
}

/** What lies under a point of the screen. */
export function placeAt(engine: MapEngine, point: Pixel): MapPlace {
  const { lng, lat } = engine.unproject([point.x, point.y]);
  return { lon: lng, lat, metresPerPixel: metresPerPixelAt(engine, point) };
}
