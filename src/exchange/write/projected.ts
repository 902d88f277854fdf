import { crsOf } from '../../position/crs';
import { done, type Outcome, refuse } from '../../survey/outcome';

/** Columns of a projected system beside the longitude and latitude of a place. */
export interface Projected {
  readonly epsg: number;
  columns(lon: number, lat: number): { easting_m: number; northing_m: number; epsg: number };
}

/** A millimetre of the plane, for checks against a total station: not a claim about the place. */
const DECIMALS = 4;

/**
 * Projected columns in metres by EPSG code.
 * Refusals: those of `crsOf`; `not_projected` for a code in degrees; `not_in_metres` for one in feet.
 */
export function projectedColumns(code: string): Outcome<Projected> {
  const crs = crsOf(code);
  if (!crs.ok) return crs;
  const { name, fromLonLat, unit } = crs.value;
  if (unit === 'degree') {
    return refuse(
      'not_projected',
      `${code} (${name}) is in degrees. Give a projected system, such as the UTM zone of the site.`,
    );
  }
  if (unit !== 'metre') {
    return refuse('not_in_metres', `${code} (${name}) does not count in metres. Give the metric form of that system.`);
  }
  const epsg = Number(code.replace(/^EPSG:/i, ''));
  return done({
    epsg,
    columns(lon, lat) {
      const [x, y] = fromLonLat(lon, lat);
      return { easting_m: Number(x.toFixed(DECIMALS)), northing_m: Number(y.toFixed(DECIMALS)), epsg };
    },
  });
}
