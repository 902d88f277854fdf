import type { Feature, FeatureCollection, Geometry } from 'geojson';
import type { HerePart } from '../../../map/here-layers';
import { geodesicDestination } from '../../../position/geodesic';
import type { HereState } from './here';

const CIRCLE_STEPS = 72;

/** Oneself, the circle that holds one with 95 %, and the way to what is walked to; nothing where no fix has come. */
export function hereDrawn({ position, oldForS, target }: HereState): FeatureCollection {
  const features: Feature[] = [];
  const add = (part: HerePart, geometry: Geometry, properties: Record<string, unknown> = {}): void => {
    features.push({ type: 'Feature', properties: { part, ...properties }, geometry });
  };
  if (target) {
    add('target', { type: 'Point', coordinates: [target.lon, target.lat] }, { label: target.label });
  }
  if (position.kind !== 'seen') return { type: 'FeatureCollection', features };
  const { fix } = position;
  const own = [fix.lon, fix.lat];
  const ring = Array.from({ length: CIRCLE_STEPS + 1 }, (_, i) => {
    const { lon, lat } = geodesicDestination(fix, (i * 360) / CIRCLE_STEPS, fix.r95M);
    return [fix.lon + shortWay(lon - fix.lon), lat];
  });
  add('circle', { type: 'Polygon', coordinates: [ring] });
  if (target) {
    add('way', { type: 'LineString', coordinates: [own, [fix.lon + shortWay(target.lon - fix.lon), target.lat]] });
  }
  add('own', { type: 'Point', coordinates: own }, oldForS === null ? {} : { old: true });
  if (fix.headingDeg !== null && oldForS === null) {
    add('heading', { type: 'Point', coordinates: own }, { heading: fix.headingDeg });
  }
  return { type: 'FeatureCollection', features };
}

const shortWay = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);
