/*
 * What epsg-index 2.0.0 gives wrongly: rotations of the "coordinate frame" methods (EPSG 9607 and its like) without the
 * change of sign that +towgs84 (position vector) needs, and two sets in microradians where arc seconds belong. Found by
 * comparing every system with PROJ (gdal3.js 2.8.1): as packaged these lie 0.7 to 676 m off, turned they agree to 5 m and
 * mostly to a millimetre. `compare-datums.ts` makes the comparison again.
 */

/** Shifts whose rotations have the wrong sign. */
const TURNED: ReadonlySet<string> = new Set([
  '23.772,17.49,17.859,0.3132,1.85274,-1.67299,-5.4262', // Israel 1993
  '2.329,-147.042,-92.08,0.309,-0.325,-0.497,5.69', // Pulkovo 1942(58)
  '-162.619,-276.959,-161.764,-0.067753,2.243648,1.158828,-1.094246', // Hong Kong 1980 Grid System
  '-96.062,-82.428,-121.753,-4.801,-0.345,1.376,1.496', // KKJ
  '-44.183,-0.58,-38.489,-2.3867,-2.7072,3.5196,-8.2703', // Albanian 1987
  '24.47,-130.89,-81.56,0,0,-0.13,-0.22', // Pulkovo 1995
  '25,-141,-78.5,0,-0.35,-0.736,0', // Pulkovo 1942
  '414.1,41.3,603.1,0.855,-2.141,7.023,0', // RT90 7.5 gon V
  '-208.719,129.685,52.092,0.195,0.014,-0.327,0.198', // Azores Oriental 1995
  '-103.088,162.481,-28.276,-0.167,-0.082,-0.168,-1.504', // Azores Central 1995
  '-117.808,-51.536,137.784,-0.303,-0.446,-0.234,-0.29', // AGD66
  '-127.62,-67.24,-47.04,3.068,-4.903,-1.578,-1.06', // PRS92
  '0.055,-0.541,-0.185,-0.0183,0.0003,0.007,-0.014', // Estonian Coordinate System of 1992
  '-191.90441429,-39.30318279,-111.45032835,-0.00928836,0.01975479,-0.00427372,0.252906278', // VN-2000
  '-292.295,248.758,429.447,-4.9971,-2.99,-6.6906,1.0289', // Bermuda 1957
  '595.48,121.69,515.35,-4.115,2.9383,-0.853,-3.408', // HD1909
  '-288.885,-91.744,126.244,1.691,-0.41,0.211,-4.598', // Lisbon
  '-1.977,-13.06,-9.993,-0.364,-0.254,-0.689,-1.037', // ID74
  '-33.722,153.789,94.959,8.581,4.478,-4.54,8.95', // JAD69
  '-239.749,88.181,30.488,-0.263,-0.082,-1.211,2.229', // Datum 73
  '-106.8686,52.2978,-103.7239,-0.3366,0.457,-1.8422,-1.2747', // BD72
  '226.702,-193.337,-35.371,2.229,4.391,-9.238,0.9798', // KUDAMS
  '631.392,-66.551,481.442,-1.09,4.445,4.487,-4.43', // Lisbon 1890
  '174.05,-25.49,112.57,0,0,-0.554,0.2263', // Chatham Islands 1979
  '-179.483,-69.379,-27.584,7.862,-8.163,-6.042,-13.925', // GCGD59
  '8.853,-52.644,180.304,0.393,2.323,-2.96,-24.081', // SIGD61
  '572.213,85.334,461.94,-4.9732,-1.529,-5.2484,3.5378', // S-JTSK/05
  '-0.293,766.95,87.713,-0.195704,-1.695068,-3.473016,-0.039338', // SLD99
  '-0.16959,0.35312,0.51846,-0.03385,0.16325,-0.03446,0.03693', // CR05
  '584.9636,107.7175,413.8067,-1.1155,-0.2824,3.1384,7.9922', // DB_REF
  '8.846,-4.394,-1.122,0.00237,0.146528,-0.130428,0.783926', // CGRS93
  '485.021,169.465,483.839,-7.786342,-4.397554,-4.102655,0', // S-JTSK [JTSK03]
  '-93.799,-132.737,-219.073,1.844,-0.648,6.37,-0.169', // Camacupa 2015
]);

const ARC_SECONDS_PER_MICRORADIAN = (180 * 3600) / Math.PI / 1e6;

/** Shifts in microradians: the factor that gives arc seconds of the position-vector convention. */
const MICRORADIANS: ReadonlyMap<string, number> = new Map([
  ['565.4171,50.3319,465.5524,1.9342,-1.6677,9.1019,4.0725', -ARC_SECONDS_PER_MICRORADIAN], // Amersfoort
  ['-83.11,-97.38,-117.22,0.0276,-0.2167,0.2147,0.1218', ARC_SECONDS_PER_MICRORADIAN], // ED87
]);

/** A definition of the register with its datum shift in the convention that proj4 computes in. */
export function withDatumShiftSetRight(definition: string): string {
  return definition.replace(/(?<=\+towgs84=)\S+/, (shift) => {
    const factor = TURNED.has(shift) ? -1 : MICRORADIANS.get(shift);
    if (factor === undefined) return shift;
    return shift
      .split(',')
      .map((text, i) => (i >= 3 && i <= 5 ? String(Number((Number(text) * factor).toFixed(9)) + 0) : text))
      .join(',');
  });
}
