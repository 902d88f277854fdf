/**
 * Worked examples of geodesy, degrees and metres.
 * GeographicLib: documentation of the npm package geographiclib-geodesic 2.2.0, man pages of GeodSolve and GeoConvert
 * (geographiclib.sourceforge.io), and GeodTest.dat (zenodo 32156, CC0).
 */
export const GEODESIC_INVERSE = [
  {
    what: 'package documentation',
    from: [-41.32, 174.81],
    to: [40.96, -5.5],
    distanceM: 19959679.267,
    toleranceM: 0.001,
  },
  {
    what: 'GeodSolve man page',
    from: [40.6, -73.8],
    to: [51.6, -0.5],
    distanceM: 5551759.4,
    azimuthDeg: 51.19888285,
    toleranceM: 0.001,
  },
  {
    what: 'GeodTest.dat',
    from: [36.530042355041, 0],
    to: [-48.16427077909777, 5.762344694676511],
    distanceM: 9398502.0434687,
    azimuthDeg: 176.125875162171,
    toleranceM: 1e-6,
  },
] as const;

/** Short lines; computed with GeographicLib's JavaScript for this project. */
export const GEODESIC_SHORT = [
  { from: [45, 0], azimuthDeg: 90, distanceM: 20, to: [44.9999999997, 0.0002536563] },
  { from: [37.2, -86.1], azimuthDeg: 33, distanceM: 100, to: [37.2007556841, -86.0993865096] },
  { from: [37.2, -86.1], azimuthDeg: 33, distanceM: 2, to: [37.2000151137, -86.0999877303] },
  { from: [0, 179.9999], azimuthDeg: 90, distanceM: 40, to: [0, -179.9997406739] },
] as const;

/** UTM. The first from the GeoConvert man page; the others by GeoConvert for this project (0.1 mm). */
export const UTM = [
  { lat: 33.3, lon: 44.4, epsg: 32638, easting: 444140.54, northing: 3684706.36, digits: 2 },
  { lat: 37.2, lon: -86.1, epsg: 32616, easting: 579869.1267, northing: 4117438.6728, digits: 3 },
  { lat: 46.05, lon: 14.5, epsg: 32633, easting: 461318.7484, northing: 5099724.3725, digits: 3 },
  { lat: -33.9, lon: 150, epsg: 32756, easting: 222584.0165, northing: 6244878.7571, digits: 3 },
] as const;

/**
 * Transverse Mercator worked example of EPSG Guidance Note 7-2 (method 9807): the projection engine in use is given the
 * note's own parameters.
 */
export const EPSG_GN7_2_TM = {
  definition:
    '+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996013 +x_0=400000 +y_0=-100000 +a=6377563.396 +rf=299.32496 +units=m',
  lat: 50.5,
  lon: 0.5,
  easting: 577274.99,
  northing: 69740.5,
} as const;
