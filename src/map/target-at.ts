import { FEATURE_TAP_LAYERS } from './feature-layers';
import { featureAt } from './feature-tap';
import { laneOffsetPx } from './lane-offset';
import type { MapEngine, MapTap } from './map-engine';
import type { MapLook } from './map-look';
import type { Picture } from './picture';
import { nearestSid, TAP_REACH_PX } from './tap-target';

/** Something on the map that a person may ask about. */
export interface MapTarget {
  readonly kind: 'midpoint' | 'electrode' | 'zone' | 'next' | 'feature';
  /** The `sid` of the feature in the layer that was tapped. */
  readonly sid: string;
  readonly source: 'segments' | 'midpoints' | 'electrodes' | 'zones' | 'next_readings' | 'feature_points';
}

/** Layers that answer a tap. */
const TAP_LAYERS = [
  'electrodes',
  'midpoints',
  'segments',
  'segments_unmeasured',
  'zones',
  'next_readings',
  ...FEATURE_TAP_LAYERS,
];

type Found = ReturnType<MapEngine['queryRenderedFeatures']>;

/** What answers a tap within a reach, in pixels. */
export function foundNear(engine: MapEngine, { x, y }: MapTap['point'], reach: number): Found {
  return engine.queryRenderedFeatures(
    [
      [x - reach, y - reach],
      [x + reach, y + reach],
    ],
    { layers: TAP_LAYERS },
  );
}

/** What a tap means. The smallest things are asked first, and from near before from far. */
export function targetAt(
  engine: MapEngine,
  picture: Picture,
  { theme, spacing }: MapLook,
  point: MapTap['point'],
): MapTarget | null {
  const under = foundNear(engine, point, 0);
  // A stake lies on top, and is as large as a fingertip.
  const stake = under.find(({ layer }) => layer.id === 'next_readings');
  if (stake) return { kind: 'next', sid: String(stake.properties.sid), source: 'next_readings' };
  const near = foundNear(engine, point, TAP_REACH_PX[0]);
  const symbol = featureAt(near, ['feature_symbols']);
  if (symbol) return { kind: 'feature', sid: symbol, source: 'feature_points' };
  for (const reach of TAP_REACH_PX) {
    const found = foundNear(engine, point, reach);
    for (const source of ['electrodes', 'midpoints', 'segments'] as const) {
      const sids = new Set(
        found
          .filter(({ layer }) => layer.id === source || (source === 'segments' && layer.id === 'segments_unmeasured'))
          .map(({ properties }) => String(properties.sid)),
      );
      if (sids.size === 0) continue;
      const sid = nearestSid(
        point,
        sids,
        picture[source],
        ([lon, lat]) => engine.project([lon ?? 0, lat ?? 0]),
        ({ lane }) =>
          source === 'segments' && spacing === 'all' && typeof lane === 'number'
            ? laneOffsetPx(theme, engine.getZoom(), lane)
            : 0,
      );
      if (sid) return { kind: source === 'electrodes' ? 'electrode' : 'midpoint', sid, source };
    }
  }
  const outline = featureAt(near, ['feature_lines', 'feature_areas']);
  if (outline) return { kind: 'feature', sid: outline, source: 'feature_points' };
  // A zone is what lies under everything else.
  const zone = under.find(({ layer }) => layer.id === 'zones');
  return zone ? { kind: 'zone', sid: String(zone.properties.sid), source: 'zones' } : null;
}
