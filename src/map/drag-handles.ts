import type { Feature, FeatureCollection } from 'geojson';
import type { MapEngine, MapPress, MapTap } from './map-engine';

export interface DragHandlesOptions {
  readonly engine: MapEngine;
  /** Points that can be dragged, by their `sid`, as they lie now. */
  readonly handles: () => FeatureCollection;
  readonly draw: (handles: FeatureCollection) => void;
  /** Let go at another place. Not called for a handle that was only touched. */
  readonly onMoved: (sid: string, point: MapTap['point']) => void;
}

/** How far from a handle it can still be taken: as far as it is drawn, and a little. */
const REACH_PX = 26;
/** A finger that only rests moves as far as this. */
const STILL_PX = 4;

interface Drag {
  readonly sid: string;
  readonly from: MapTap['point'];
  /** From the finger to the point, so that it does not jump when it is taken at its rim. */
  readonly dx: number;
  readonly dy: number;
  moved: boolean;
}

/** Lets points on the map be dragged; the map itself stays where it is meanwhile. */
export function dragHandles({ engine, handles, draw, onMoved }: DragHandlesOptions): void {
  let drag: Drag | null = null;

  const placeOf = (feature: Feature): MapTap['point'] | null => {
    if (feature.geometry.type !== 'Point') return null;
    const [lon = 0, lat = 0] = feature.geometry.coordinates;
    return engine.project([lon, lat]);
  };

  const take = (press: MapPress): void => {
    const { x, y } = press.point;
    let nearest = REACH_PX;
    drag = null;
    for (const feature of handles().features) {
      const at = placeOf(feature);
      const apart = at ? Math.hypot(at.x - x, at.y - y) : Infinity;
      if (!at || apart > nearest) continue;
      nearest = apart;
      drag = { sid: String(feature.properties?.sid), from: press.point, dx: at.x - x, dy: at.y - y, moved: false };
    }
    if (drag) press.preventDefault();
  };

  const target = ({ dx, dy }: Drag, { x, y }: MapTap['point']): MapTap['point'] => ({ x: x + dx, y: y + dy });

  const follow = ({ point, originalEvent }: MapTap): void => {
    if (!drag) return;
    // The button was let go outside the map.
    if (originalEvent && 'buttons' in originalEvent && originalEvent.buttons === 0) {
      leave();
      return;
    }
    drag.moved ||= Math.hypot(point.x - drag.from.x, point.y - drag.from.y) > STILL_PX;
    if (!drag.moved) return;
    const { x, y } = target(drag, point);
    const { lng, lat } = engine.unproject([x, y]);
    const { sid } = drag;
    const { features } = handles();
    draw({
      type: 'FeatureCollection',
      features: features.map((feature) =>
        feature.properties?.sid === sid
          ? { ...feature, geometry: { type: 'Point', coordinates: [lng, lat] } }
          : feature,
      ),
    });
  };

  const leave = (): void => {
    if (drag?.moved) draw(handles());
    drag = null;
  };

  const drop = ({ point }: MapTap): void => {
    const dropped = drag;
    drag = null;
    if (dropped?.moved) onMoved(dropped.sid, target(dropped, point));
  };

  engine.on('mousedown', take);
  engine.on('touchstart', take);
  engine.on('mousemove', follow);
  engine.on('touchmove', follow);
  engine.on('mouseup', drop);
  engine.on('touchend', drop);
  engine.on('touchcancel', leave);
}
