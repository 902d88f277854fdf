import type { MapEngine } from './map-engine';
import type { Bounds } from './picture';
import { middleOf, sizeOf } from './screen-ground';

/** Pixels at each edge of the map that something else covers. */
export interface Covered {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
}

/** The middle of the map in degrees, and its zoom. */
export interface View {
  readonly lon: number;
  readonly lat: number;
  readonly zoom: number;
}

export interface Motion {
  readonly animate: boolean;
  readonly duration: number;
}

export const AT_ONCE: Motion = { animate: false, duration: 0 };
export const EASED: Motion = { animate: true, duration: 250 };

/** Nearer than this a line of a metre would fill the screen. */
const CLOSEST_FRAME_ZOOM = 20;
const FRAME_MARGIN_PX = 36;
/** Farther out than this the strokes of a place run into each other. */
const REVEAL_ZOOM = 19;

/** Brings bounds into the part of the map that nothing covers. */
export function goToBounds(engine: MapEngine, bounds: Bounds, covered: Covered, motion: Motion): void {
  // On a short screen, or a page that is enlarged, the edges give way before the ground does.
  const { width, height } = sizeOf(engine);
  const edge = FRAME_MARGIN_PX;
  const across = Math.min(1, width / (2 * (covered.left + covered.right + 2 * edge)));
  const down = Math.min(1, height / (2 * (covered.top + covered.bottom + 2 * edge)));
  const padding = {
    top: down * (covered.top + edge),
    right: across * (covered.right + edge),
    bottom: down * (covered.bottom + edge),
    left: across * (covered.left + edge),
  };
  engine.fitBounds([...bounds], { padding, maxZoom: CLOSEST_FRAME_ZOOM, ...motion });
}

/** Moves as little as needed, so that a place is in the open part of the map and near enough to be made out. */
export function goToPlace(engine: MapEngine, lon: number, lat: number, covered: Covered, motion: Motion): void {
  const { width, height } = sizeOf(engine);
  const { x, y } = engine.project([lon, lat]);
  const zoom = engine.getZoom();
  const open =
    x > covered.left + FRAME_MARGIN_PX &&
    x < width - covered.right - FRAME_MARGIN_PX &&
    y > covered.top + FRAME_MARGIN_PX &&
    y < height - covered.bottom - FRAME_MARGIN_PX;
  if (zoom >= REVEAL_ZOOM && open) return;
  engine.easeTo({
    center: [lon, lat],
    zoom: Math.max(zoom, REVEAL_ZOOM),
    offset: [(covered.left - covered.right) / 2, (covered.top - covered.bottom) / 2],
    ...motion,
  });
}

export function goToView(engine: MapEngine, { lon, lat, zoom }: View): void {
  engine.easeTo({ center: [lon, lat], zoom, ...AT_ONCE });
}

export function viewNow(engine: MapEngine): View {
  const { x, y } = middleOf(engine);
  const { lng, lat } = engine.unproject([x, y]);
  return { lon: lng, lat, zoom: engine.getZoom() };
}
