/** Facts about projected systems from outside: degrees and metres. */

/** Azimuth of grid north clockwise from true north. */
export const CONVERGENCE = [
  { epsg: 32616, lat: 37.2, lon: -86.1, deg: 0.544168, tolerance: 1e-6, source: 'GeoConvert 2.1.2' },
  // γ = Δλ sin φ (1 + Δλ² cos² φ (1 + 3η² + 2η⁴) / 3 + Δλ⁴ cos⁴ φ (2 - tan² φ) / 15), worked out for this project.
  { epsg: 32756, lat: -33.9, lon: 150, deg: 1.674304, tolerance: 2e-6, source: 'series' },
  { epsg: 32633, lat: 46.05, lon: 14.5, deg: -0.359977, tolerance: 2e-6, source: 'series' },
  { epsg: 3857, lat: 60, lon: 100, deg: 0, tolerance: 1e-6, source: 'meridians of Mercator are grid lines' },
  // Polar stereographic: grid north turns with the longitude.
  { epsg: 3031, lat: -75, lon: 30, deg: -30, tolerance: 1e-5, source: 'definition' },
] as const;

/**
 * UTM zones by GeoConvert (Bergen, Longyearbyen, Sydney, Kentucky, Ljubljana, the origin); the ends of the widened zones
 * by their definition in NGA.SIG.0012 (2014; values from memory).
 */
export const UTM_ZONES = [
  { what: 'Bergen', lat: 60.39, lon: 5.32, zone: 32, band: 'V', epsg: 32632 },
  { what: 'Longyearbyen', lat: 78.2, lon: 15.6, zone: 33, band: 'X', epsg: 32633 },
  { what: 'the origin', lat: 0, lon: 0, zone: 31, band: 'N', epsg: 32631 },
  { what: 'Kentucky', lat: 37.2, lon: -86.1, zone: 16, band: 'S', epsg: 32616 },
  { what: 'Slovenia', lat: 46.05, lon: 14.5, zone: 33, band: 'T', epsg: 32633 },
  { what: 'Sydney', lat: -33.9, lon: 150, zone: 56, band: 'H', epsg: 32756 },
  { what: 'west of the Norwegian bight', lat: 60, lon: 2.999, zone: 31, band: 'V', epsg: 32631 },
  { what: 'its beginning', lat: 56, lon: 3, zone: 32, band: 'V', epsg: 32632 },
  { what: 'south of it', lat: 55.999, lon: 3, zone: 31, band: 'U', epsg: 32631 },
  { what: 'north of it', lat: 64, lon: 3, zone: 31, band: 'W', epsg: 32631 },
  { what: 'Svalbard 31X', lat: 75, lon: 8.999, zone: 31, band: 'X', epsg: 32631 },
  { what: 'Svalbard 33X', lat: 75, lon: 9, zone: 33, band: 'X', epsg: 32633 },
  { what: 'Svalbard 35X', lat: 72, lon: 21, zone: 35, band: 'X', epsg: 32635 },
  { what: 'Svalbard 37X', lat: 84, lon: 33, zone: 37, band: 'X', epsg: 32637 },
  { what: 'east of Svalbard', lat: 75, lon: 42, zone: 38, band: 'X', epsg: 32638 },
  { what: 'the date line', lat: -16.5, lon: 180, zone: 1, band: 'K', epsg: 32701 },
  { what: 'just west of it', lat: -16.5, lon: 179.999, zone: 60, band: 'K', epsg: 32760 },
  { what: 'just south of the equator', lat: -0.0001, lon: 9, zone: 32, band: 'M', epsg: 32732 },
] as const;

/** MGRS cells: their south-west corners. */
export const MGRS = [
  // The man page gives the middle of the cell: 38n 444500 3688500.
  { text: '38SMB4488', epsg: 32638, easting: 444000, northing: 3688000, sideM: 1000, source: 'GeoConvert man page' },
  // 47.5 N 10.25 E.
  { text: '32TNT9414161486', epsg: 32632, easting: 594141, northing: 5261486, sideM: 1, source: 'package mgrs' },
  { text: '32T NT 94141 61486', epsg: 32632, easting: 594141, northing: 5261486, sideM: 1, source: 'the same, spaced' },
  { text: '32tnt 9414161486', epsg: 32632, easting: 594141, northing: 5261486, sideM: 1, source: 'the same, small' },
  { text: '32TNT', epsg: 32632, easting: 500000, northing: 5200000, sideM: 100000, source: 'the same square' },
  // By the letters of the standard: zone 4 begins with A and F, so F is 600 km east, J three rows over F: 23 · 100 km.
  {
    text: '4QFJ12345678',
    epsg: 32604,
    easting: 612340,
    northing: 2356780,
    sideM: 10,
    source: 'letters of the standard',
  },
] as const;

/**
 * Test vectors of PROJ (github.com/OSGeo/PROJ, commit 52da98bd, MIT; values as facts). `gigs`: test/gigs/5101.2-jhs.gie
 * and 5101.3-jhs.gie, the transverse Mercator vectors of IOGP's GIGS, stated to 0.03 m; `gie`: test/gie/
 * 4D-API_cs2cs-style.gie and more_builtins.gie. Longitude and latitude are those of the system's own datum, which here
 * is one with WGS 84, but for GGRS87.
 */
export const PROJ_VECTORS = [
  { epsg: 32631, lon: -2, lat: 80, x: 403186.945, y: 8885748.708, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 32631, lon: -2, lat: 60, x: 221288.77, y: 6661953.041, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 32631, lon: -2, lat: 40, x: 73106.698, y: 4439746.917, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 32631, lon: -2, lat: 0, x: -57087.12, y: 0, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 32631, lon: -2, lat: -40, x: 73106.698, y: -4439746.917, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 32631, lon: 0, lat: 60, x: 332705.179, y: 6655205.484, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 32631, lon: 5, lat: 60, x: 611544.042, y: 6653097.435, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 32631, lon: 8, lat: 60, x: 778711.23, y: 6661953.041, toleranceM: 0.001, source: 'gigs 5101.2' },
  { epsg: 28354, lon: 146, lat: 0, x: 1057087.12, y: 10000000, toleranceM: 0.001, source: 'gigs 5101.3' },
  { epsg: 28354, lon: 146, lat: -20, x: 1023538.687, y: 7780691.762, toleranceM: 0.001, source: 'gigs 5101.3' },
  { epsg: 28354, lon: 146, lat: -40, x: 926893.302, y: 5560253.083, toleranceM: 0.001, source: 'gigs 5101.3' },
  { epsg: 28354, lon: 136, lat: -60, x: 221288.77, y: 3338046.96, toleranceM: 0.001, source: 'gigs 5101.3' },
  { epsg: 28354, lon: 141, lat: -60, x: 500000, y: 3348588.81, toleranceM: 0.001, source: 'gigs 5101.3' },
  { epsg: 28354, lon: 149, lat: -60, x: 945493.565, y: 3321588.377, toleranceM: 0.001, source: 'gigs 5101.3' },
  { epsg: 25832, lon: 12, lat: 55, x: 691875.63214, y: 6098907.82501, toleranceM: 1e-4, source: 'gie' },
  { epsg: 3857, lon: -100.33333333, lat: 24.46358028, x: -11169055.58, y: 2810000, toleranceM: 0.01, source: 'gie' },
  { epsg: 3857, lon: -100.33333333, lat: 24.38178694, x: -11169055.58, y: 2800000, toleranceM: 0.01, source: 'gie' },
  { epsg: 2056, lon: 7.438632495, lat: 46.951082877, x: 2600000, y: 1200000, toleranceM: 0.2, source: 'gie' },
] as const;

/** The same sources: from one projected system to another, and from an older datum to WGS 84. */
export const PROJ_ACROSS = {
  from: { epsg: 26915, x: 487147.594520173, y: 4934316.46263998 },
  to: { epsg: 3857, x: -10370728.8, y: 5552839.74 },
  toleranceM: 0.01,
  ggrs87: { epsg: 4121, x: 23.7275, y: 37.9838, lon: 23.72919487318, lat: 37.986398897578, toleranceDeg: 1e-9 },
} as const;

/**
 * Systems and where they are used (west, east, south, north), for a comparison with PROJ at random places. Whoever adds
 * a projection method adds one here.
 */
export const COMPARED = [
  { epsg: 32601, area: [-180, -174, 0, 84] },
  { epsg: 32633, area: [12, 18, 0, 84] },
  { epsg: 32660, area: [174, 180, 0, 84] },
  { epsg: 32702, area: [-174, -168, -80, 0] },
  { epsg: 32756, area: [150, 156, -80, 0] },
  { epsg: 25832, area: [6, 12, 38, 84] },
  { epsg: 26915, area: [-96, -90, 25, 84] },
  { epsg: 28354, area: [138, 144, -49, -9] },
  { epsg: 2154, area: [-9.9, 10.4, 41.1, 51.6] },
  { epsg: 31254, area: [9.5, 11.8, 46.8, 47.6] },
  { epsg: 3857, area: [-180, 180, -85, 85] },
  { epsg: 5070, area: [-124.8, -66.9, 24.4, 49.4] },
  { epsg: 3035, area: [-35, 44, 24.6, 84] },
  { epsg: 2180, area: [14.1, 24.2, 49, 55.9] },
  { epsg: 21781, area: [5.9, 10.5, 45.8, 47.8] },
  { epsg: 2056, area: [5.9, 10.5, 45.8, 47.8] },
  { epsg: 3794, area: [13.4, 16.6, 45.4, 46.9] },
  { epsg: 2193, area: [166.3, 178.7, -47.4, -34] },
  { epsg: 2264, area: [-84.4, -75.4, 33.8, 36.6] },
  { epsg: 3577, area: [112.8, 153.7, -43.8, -9.8] },
  { epsg: 3301, area: [21.7, 28.2, 57.5, 59.8] },
  { epsg: 23700, area: [16.1, 22.9, 45.7, 48.6] },
  { epsg: 3031, area: [-180, 180, -90, -60] },
  { epsg: 5041, area: [-180, 180, 60, 90] },
] as const;
