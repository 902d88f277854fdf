import { LANE_PX, LANES_FROM_ZOOM, LANES_FULL_ZOOM, type MapLook } from './map-style';

/** How far to the right of its line a lane is drawn, in pixels, as the style says it. */
export function laneOffsetPx(look: MapLook, zoom: number, lane: number): number {
  if (look.spacing !== 'all') return 0;
  const share = Math.min(1, Math.max(0, (zoom - LANES_FROM_ZOOM) / (LANES_FULL_ZOOM - LANES_FROM_ZOOM)));
  return share * lane * LANE_PX * (look.theme === 'sunlight' ? 1.25 : 1);
}
