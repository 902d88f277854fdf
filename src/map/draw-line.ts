import { TerraDraw, TerraDrawLineStringMode } from 'terra-draw';
import { TerraDrawMapLibreGLAdapter } from 'terra-draw-maplibre-gl-adapter';
import type { MapEngine } from './map-engine';
import type { Palette } from './palette';

/** A placed point that a drawn line may begin, bend or end at. */
export interface SnapPoint {
  readonly id: string;
  readonly lon: number;
  readonly lat: number;
}

export interface VertexOnMap {
  readonly lon: number;
  readonly lat: number;
  /** Of the map when it was set. */
  readonly metresPerPixel: number;
  readonly snappedTo: string | null;
}

export interface DrawnOnMap {
  /** What stands, in the order in which it was tapped. */
  readonly vertices: readonly VertexOnMap[];
  /** Where the pointer is; null on a touch screen between taps. */
  readonly pointer: { readonly lon: number; readonly lat: number } | null;
  readonly finished: boolean;
}

export interface DrawLineOptions {
  readonly engine: MapEngine;
  readonly palette: Palette;
  readonly snapPoints: readonly SnapPoint[];
  readonly metresPerPixel: () => number;
  readonly onDrawn: (drawn: DrawnOnMap) => void;
}

export interface LineDrawing {
  /** Takes back the last vertex. */
  undo(): void;
  /** Takes everything of it off the map. */
  end(): void;
}

/** Within this a tap means the placed point. */
const SNAP_PX = 16;

/**
 * Draws a line on the map by taps. The library keeps nothing afterwards: its layers and sources are gone with `end`.
 * The map's style must not be replaced meanwhile (terra-draw issue 590).
 */
export function drawLine({ engine, palette, snapPoints, metresPerPixel, onDrawn }: DrawLineOptions): LineDrawing {
  const set: VertexOnMap[] = [];
  let finished = false;
  const accent = hexOf(palette.accent);
  const paper = hexOf(palette.paper);

  const snapAt = (lon: number, lat: number): SnapPoint | null => {
    const { x, y } = engine.project([lon, lat]);
    let best: { point: SnapPoint; apart: number } | null = null;
    for (const point of snapPoints) {
      const at = engine.project([point.lon, point.lat]);
      const apart = Math.hypot(at.x - x, at.y - y);
      if (apart <= SNAP_PX && (!best || apart < best.apart)) best = { point, apart };
    }
    return best?.point ?? null;
  };

  const mode = new TerraDrawLineStringMode({
    pointerDistance: SNAP_PX,
    showCoordinatePoints: true,
    snapping: {
      toCustom: ({ lng, lat }) => {
        const snap = snapAt(lng, lat);
        return snap ? [rounded(snap.lon), rounded(snap.lat)] : undefined;
      },
    },
    styles: {
      lineStringColor: accent,
      lineStringWidth: 3,
      coordinatePointColor: paper,
      coordinatePointOutlineColor: accent,
      coordinatePointOutlineWidth: 2,
      coordinatePointWidth: 5,
      closingPointColor: accent,
      closingPointOutlineColor: paper,
      closingPointWidth: 7,
      snappingPointColor: paper,
      snappingPointOutlineColor: accent,
      snappingPointWidth: 9,
    },
  });
  const draw = new TerraDraw({
    adapter: new TerraDrawMapLibreGLAdapter({ map: engine, coordinatePrecision: 9 }),
    modes: [mode],
  });

  /** What stands, with what is known of each vertex since it was set. */
  const tell = (): void => {
    const drawn = draw.getSnapshot().find(({ geometry }) => geometry.type === 'LineString');
    const all = drawn?.geometry.type === 'LineString' ? drawn.geometry.coordinates : [];
    // While it is drawn the last one follows the pointer.
    const standing = finished ? all : all.slice(0, -1);
    const vertices = standing.map(([lon = 0, lat = 0], i): VertexOnMap => {
      const known = set[i];
      if (known && known.lon === lon && known.lat === lat) return known;
      const snap = snapPoints.find((point) => rounded(point.lon) === lon && rounded(point.lat) === lat);
      return { lon, lat, metresPerPixel: metresPerPixel(), snappedTo: snap?.id ?? null };
    });
    set.splice(0, set.length, ...vertices);
    const last = all[all.length - 1];
    const pointer = finished || !last ? null : { lon: last[0] ?? 0, lat: last[1] ?? 0 };
    onDrawn({ vertices, pointer, finished });
  };

  draw.on('change', () => {
    if (!finished) tell();
  });
  draw.on('finish', () => {
    finished = true;
    tell();
  });
  draw.start();
  draw.setMode(mode.mode);

  return {
    undo() {
      if (finished) return;
      mode.undo();
      tell();
    },
    end() {
      if (draw.enabled) draw.stop();
    },
  };
}

/** The library refuses coordinates with more digits; nine are a tenth of a millimetre. */
const rounded = (degrees: number): number => Number(degrees.toFixed(9));

/** The library takes colours as #rrggbb only. */
function hexOf(colour: string): `#${string}` {
  return /^#[0-9a-f]{6}$/i.test(colour) ? (colour as `#${string}`) : '#5b3a8c';
}
