import geodesic from 'geographiclib-geodesic';
import type { LonLat } from './crs';

const { WGS84 } = geodesic.Geodesic;

/** Length in metres of the shortest line on the WGS 84 ellipsoid (Karney 2013, doi 10.1007/s00190-012-0578-z). */
export function geodesicDistanceM(from: LonLat, to: LonLat): number {
  return WGS84.Inverse(from.lat, from.lon, to.lat, to.lon).s12 as number;
}

/** Azimuth in degrees clockwise from true north at `from`, 0 to 360, of the shortest line to `to`. */
export function azimuthDeg(from: LonLat, to: LonLat): number {
  const azimuth = WGS84.Inverse(from.lat, from.lon, to.lat, to.lon).azi1 as number;
  return (azimuth + 360) % 360;
}

/** Where one comes to, walking `distanceM` from a place along an azimuth (degrees from true north). */
export function geodesicDestination(from: LonLat, azimuth: number, distanceM: number): LonLat {
  const end = WGS84.Direct(from.lat, from.lon, azimuth, distanceM);
  return { lon: end.lon2 as number, lat: end.lat2 as number };
}
