import type { Feature, FeatureCollection, LineString, Point } from 'geojson';
import type { LocalPlane } from './local-plane';
import { roundLengthUp } from './round-length';

/** What is in sight: bounds in degrees, and the size of a pixel on the ground at its middle, in metres. */
export interface GridView {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
  readonly metresPerPixel: number;
}

export interface MetreGrid {
  /** Distance between neighbouring lines; null when the view is too wide for a plane. */
  readonly stepM: number | null;
  readonly lines: FeatureCollection<LineString, { major: boolean }>;
  /** Along the west edge (`axis` north) and the north edge (`axis` east) of the view. */
  readonly labels: FeatureCollection<Point, { label: string; axis: 'east' | 'north' }>;
}

/** Neighbouring lines are at least this far apart on the screen. */
const SMALLEST_GAP_PX = 84;
/** Wider than this the ground is not a plane to the width of a line. */
const WIDEST_VIEW_M = 100_000;
const PIECES = 8;

/** `40 E`, `120 N`, `0`: metres from the plane's origin, as written beside a grid line. */
export function gridLabel(metres: number, positive: 'E' | 'N'): string {
  const rounded = Number(metres.toPrecision(9));
  if (rounded === 0) return '0';
  const letter = rounded > 0 ? positive : positive === 'E' ? 'W' : 'S';
  return `${Math.abs(rounded)} ${letter}`;
}

/**
 * Grid lines every 1, 2 or 5 × 10^n metres of a local plane, over the whole view.
 * They are bound to the plane's origin, so they stay on the ground while the map moves.
 */
export function metreGrid(plane: LocalPlane, view: GridView): MetreGrid {
  const corners = [
    plane.toPlane(view.west, view.south),
    plane.toPlane(view.east, view.south),
    plane.toPlane(view.west, view.north),
    plane.toPlane(view.east, view.north),
  ];
  const east = corners.map((corner) => corner.eastM);
  const north = corners.map((corner) => corner.northM);
  const fromEast = Math.min(...east);
  const toEast = Math.max(...east);
  const fromNorth = Math.min(...north);
  const toNorth = Math.max(...north);

  const farthest = Math.max(Math.abs(fromEast), Math.abs(toEast), Math.abs(fromNorth), Math.abs(toNorth));
  const lines: Feature<LineString, { major: boolean }>[] = [];
  const labels: Feature<Point, { label: string; axis: 'east' | 'north' }>[] = [];
  if (!(farthest <= WIDEST_VIEW_M) || !(view.metresPerPixel > 0)) {
    return { stepM: null, lines: collection(lines), labels: collection(labels) };
  }

  const stepM = roundLengthUp(SMALLEST_GAP_PX * view.metresPerPixel);
  const majorEvery = 10 ** Math.ceil(Math.log10(stepM * 2));
  const isMajor = (metres: number) => Math.abs(metres / majorEvery - Math.round(metres / majorEvery)) < 1e-6;
  const at = (eastM: number, northM: number): [number, number] => {
    const { lon, lat } = plane.toLonLat(eastM, northM);
    return [lon, lat];
  };
  const edge = { east: plane.toPlane(view.west, (view.south + view.north) / 2), north: view.north };

  for (let i = Math.ceil(fromEast / stepM); i * stepM <= toEast; i += 1) {
    const eastM = i * stepM;
    lines.push(
      gridLine(
        pieces(fromNorth, toNorth).map((northM) => at(eastM, northM)),
        isMajor(eastM),
      ),
    );
    const { lon } = plane.toLonLat(eastM, toNorth);
    labels.push(label([lon, edge.north], gridLabel(eastM, 'E'), 'east'));
  }
  for (let i = Math.ceil(fromNorth / stepM); i * stepM <= toNorth; i += 1) {
    const northM = i * stepM;
    lines.push(
      gridLine(
        pieces(fromEast, toEast).map((eastM) => at(eastM, northM)),
        isMajor(northM),
      ),
    );
    const { lat } = plane.toLonLat(edge.east.eastM, northM);
    labels.push(label([view.west, lat], gridLabel(northM, 'N'), 'north'));
  }
  return { stepM, lines: collection(lines), labels: collection(labels) };
}

function pieces(from: number, to: number): number[] {
  return Array.from({ length: PIECES + 1 }, (_, i) => from + ((to - from) * i) / PIECES);
}

function gridLine(coordinates: [number, number][], major: boolean): Feature<LineString, { major: boolean }> {
  return { type: 'Feature', properties: { major }, geometry: { type: 'LineString', coordinates } };
}

function label(
  coordinates: [number, number],
  text: string,
  axis: 'east' | 'north',
): Feature<Point, { label: string; axis: 'east' | 'north' }> {
  return { type: 'Feature', properties: { label: text, axis }, geometry: { type: 'Point', coordinates } };
}

function collection<G extends LineString | Point, P>(features: Feature<G, P>[]): FeatureCollection<G, P> {
  return { type: 'FeatureCollection', features };
}
