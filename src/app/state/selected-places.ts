import type { Feature, FeatureCollection, LineString, Point } from 'geojson';
import type { LineFindings, MidpointFinding } from '../../findings';
import { localPlane } from '../../map/local-plane';
import { probePlaces } from '../words/probe-words';

const CIRCLE_SIDES = 48;

/** Where the probes of a reading stood, and the circle that holds its midpoint: drawn over the map while it is open. */
export function selectedPlaces(finding: MidpointFinding, line: LineFindings): FeatureCollection {
  const probes = probePlaces(finding).flatMap(({ label, chainageM }): Feature<Point>[] => {
    const electrode = line.electrodes.find((one) => Math.abs((one.chainageM ?? Number.NaN) - chainageM) < 0.0005);
    return electrode ? [point(electrode.lon, electrode.lat, label)] : [];
  });
  return {
    type: 'FeatureCollection',
    features: [...probes, circle(finding.lon, finding.lat, finding.uncertainty95M)],
  };
}

export function selectedPlace(lon: number, lat: number, radiusM: number): FeatureCollection {
  return { type: 'FeatureCollection', features: [circle(lon, lat, radiusM)] };
}

function point(lon: number, lat: number, label: string): Feature<Point> {
  return { type: 'Feature', properties: { label }, geometry: { type: 'Point', coordinates: [lon, lat] } };
}

function circle(lon: number, lat: number, radiusM: number): Feature<LineString> {
  const plane = localPlane(lon, lat);
  const coordinates = Array.from({ length: CIRCLE_SIDES + 1 }, (_, i) => {
    const turn = ((i % CIRCLE_SIDES) / CIRCLE_SIDES) * 2 * Math.PI;
    const place = plane.toLonLat(radiusM * Math.sin(turn), radiusM * Math.cos(turn));
    return [place.lon, place.lat];
  });
  return { type: 'Feature', properties: { radius_m: radiusM }, geometry: { type: 'LineString', coordinates } };
}
