/**
 * A plane for drawing only: metres east and north of an origin, for the grid, the scale and the circle of uncertainty.
 * Transverse Mercator with k = 1 about the origin, its series cut after the second order: within 2 cm as
 * far as 5 km either way, for latitudes up to 70°. Survey positions come from `position/`, never from here.
 */
export interface LocalPlane {
  readonly originLon: number;
  readonly originLat: number;
  toPlane(lon: number, lat: number): { eastM: number; northM: number };
  toLonLat(eastM: number, northM: number): { lon: number; lat: number };
}

// WGS 84.
const SEMI_MAJOR_M = 6378137;
const FLATTENING = 1 / 298.257223563;
const ECCENTRICITY_SQUARED = FLATTENING * (2 - FLATTENING);
const RAD = Math.PI / 180;

const wrapDeg = (deg: number): number => ((((deg + 180) % 360) + 360) % 360) - 180;

export function localPlane(originLon: number, originLat: number): LocalPlane {
  const sin = Math.sin(originLat * RAD);
  const cos = Math.cos(originLat * RAD);
  const w2 = 1 - ECCENTRICITY_SQUARED * sin * sin;
  const normal = SEMI_MAJOR_M / Math.sqrt(w2);
  const meridian = (normal * (1 - ECCENTRICITY_SQUARED)) / w2;
  const meridianRate = (1.5 * ECCENTRICITY_SQUARED * sin * cos * meridian) / w2;

  return {
    originLon,
    originLat,
    toPlane(lon, lat) {
      const dLat = (lat - originLat) * RAD;
      const dLon = wrapDeg(lon - originLon) * RAD;
      return {
        eastM: (normal * cos - meridian * sin * dLat) * dLon,
        northM: meridian * dLat + meridianRate * dLat * dLat + 0.5 * normal * sin * cos * dLon * dLon,
      };
    },
    toLonLat(eastM, northM) {
      let dLat = northM / meridian;
      let dLon = eastM / (normal * cos);
      for (let i = 0; i < 4; i += 1) {
        dLat = (northM - meridianRate * dLat * dLat - 0.5 * normal * sin * cos * dLon * dLon) / meridian;
        dLon = eastM / (normal * cos - meridian * sin * dLat);
      }
      return { lon: wrapDeg(originLon + dLon / RAD), lat: originLat + dLat / RAD };
    },
  };
}
