import type { Theme } from './ramp';

/**
 * Distance from lane to lane, in pixels, by zoom: far out the lanes lie on their line, the strongest stroke on top; from
 * the second zoom on they are apart; nearer still they share out the room.
 */
export const LANE_STOPS: readonly (readonly [zoom: number, px: number])[] = [
  [15.5, 0],
  [18, 7],
  [21, 15],
];

/** Farther than this no stroke is drawn from its line: half the lanes at their widest, in sunlight, and half a stroke. */
export const WIDEST_REACH_PX = 64;
/** So many lanes lie side by side at their full distance; more share the room of these. */
export const ROOMY_LANES = 7;

/** In sunlight everything is sturdier. */
export function sturdiness(theme: Theme): number {
  return theme === 'sunlight' ? 1.25 : 1;
}

/** How far to the right of its line a lane is drawn, in pixels; between the stops it goes straight. */
export function laneOffsetPx(theme: Theme, zoom: number, lane: number): number {
  return lane * pitchAt(zoom) * sturdiness(theme);
}

function pitchAt(zoom: number): number {
  const next = LANE_STOPS.findIndex(([stop]) => zoom < stop);
  const [after, afterPx] = LANE_STOPS[next] ?? [0, 0];
  const [before, beforePx] = (next === -1 ? LANE_STOPS.at(-1) : LANE_STOPS[next - 1]) ?? [0, 0];
  if (next <= 0) return next === 0 ? afterPx : beforePx;
  return beforePx + ((afterPx - beforePx) * (zoom - before)) / (after - before);
}
