import { done, type Outcome, refuse } from '../survey/outcome';
import { UNSAID_R95_M } from './accuracy';
import { crsOf, type LonLat } from './crs';
import { mgrsText } from './mgrs';
import { utmZoneOf } from './utm';

/** The ways in which a place can be shown and written. `EPSG:n` is any system of the table. */
export type CoordinateForm =
  | 'decimal_degrees'
  | 'degrees_minutes'
  | 'degrees_minutes_seconds'
  | 'utm'
  | 'mgrs'
  | `EPSG:${number}`;

/** The forms that need no code, for a picker. */
export const COORDINATE_FORMS = [
  'decimal_degrees',
  'degrees_minutes',
  'degrees_minutes_seconds',
  'utm',
  'mgrs',
] as const satisfies readonly CoordinateForm[];

/** The last digit written is worth no more than this share of the accuracy, so that rounding adds nothing to it. */
const DIGIT_SHARE = 0.2;
const METRES_PER_DEGREE = 111_320;
/** A millimetre is the last that a survey can mean. */
const FINEST_M = 0.001;

/**
 * Writes a place in a form, with as many digits as its accuracy is worth; `readPlaceText` reads it again.
 * @param accuracy95M radius that holds the place with 95 %; unsaid it is taken for that of a phone.
 * Refusals: `outside_utm` for UTM and MGRS near the poles, those of `crsOf`, `outside_crs`.
 */
export function placeText(place: LonLat, form: CoordinateForm, accuracy95M: number = UNSAID_R95_M): Outcome<string> {
  const stepM = Math.max(FINEST_M, DIGIT_SHARE * accuracy95M);
  switch (form) {
    case 'decimal_degrees':
    case 'degrees_minutes':
    case 'degrees_minutes_seconds':
      return done(degreesText(place, form, stepM));
    case 'mgrs':
      // Cut off to a cell, not rounded: the cell has to be small beside the accuracy.
      return mgrsText(place, Math.min(5, Math.max(0, 5 - decimalsDown(stepM))));
    case 'utm': {
      const zone = utmZoneOf(place);
      if (!zone.ok) return zone;
      const { zone: number, hemisphere, epsg } = zone.value;
      const numbers = projectedText(place, epsg, stepM);
      return numbers.ok ? done(`UTM ${number} ${hemisphere} ${numbers.value}`) : numbers;
    }
    default: {
      const crs = crsOf(form);
      if (!crs.ok) return crs;
      if (crs.value.unit === 'degree') {
        const [lon, lat] = crs.value.fromLonLat(place.lon, place.lat);
        return done(`${form} ${degreesText({ lon, lat }, 'decimal_degrees', stepM)}`);
      }
      const numbers = projectedText(place, form, stepM);
      return numbers.ok ? done(`${form} ${numbers.value}`) : numbers;
    }
  }
}

/** Exponent of the largest power of ten that is not above a step: 2 for 130 m, 0 for 5 m. */
const decimalsDown = (step: number): number => Math.floor(Math.log10(step) + 1e-9);

/** Decimals that show a step of some unit; none for steps of a unit and more. */
const decimalsFor = (step: number): number => Math.max(0, -decimalsDown(step));

function projectedText(place: LonLat, epsg: string, stepM: number): Outcome<string> {
  const crs = crsOf(epsg);
  if (!crs.ok) return crs;
  const [x, y] = crs.value.fromLonLat(place.lon, place.lat);
  if (!Number.isFinite(x) || !Number.isFinite(y)) {
    return refuse('outside_crs', `${epsg} (${crs.value.name}) cannot be used at ${place.lat}, ${place.lon}.`);
  }
  const decimals = decimalsFor(stepM);
  return done(`${x.toFixed(decimals)} ${y.toFixed(decimals)}`);
}

function degreesText({ lon, lat }: LonLat, form: CoordinateForm, stepM: number): string {
  if (form === 'decimal_degrees') {
    const decimals = decimalsFor(stepM / METRES_PER_DEGREE);
    return `${withoutMinusNought(lat.toFixed(decimals))}, ${withoutMinusNought(lon.toFixed(decimals))}`;
  }
  const write = form === 'degrees_minutes' ? minutesText : secondsText;
  return `${write(lat, lat < 0 ? 'S' : 'N', stepM)}, ${write(lon, lon < 0 ? 'W' : 'E', stepM)}`;
}

const withoutMinusNought = (text: string): string => (/^-0(?:\.0*)?$/.test(text) ? text.slice(1) : text);

function minutesText(deg: number, letter: string, stepM: number): string {
  const decimals = decimalsFor((stepM / METRES_PER_DEGREE) * 60);
  // Rounded as a whole, so that 59.9999′ never becomes 60′.
  const units = Math.round(Math.abs(deg) * 60 * 10 ** decimals);
  const perDegree = 60 * 10 ** decimals;
  const minutes = ((units % perDegree) / 10 ** decimals).toFixed(decimals);
  return `${Math.floor(units / perDegree)}° ${twoDigits(minutes)}' ${letter}`;
}

function secondsText(deg: number, letter: string, stepM: number): string {
  const decimals = decimalsFor((stepM / METRES_PER_DEGREE) * 3600);
  const units = Math.round(Math.abs(deg) * 3600 * 10 ** decimals);
  const perMinute = 60 * 10 ** decimals;
  const seconds = ((units % perMinute) / 10 ** decimals).toFixed(decimals);
  const minutes = Math.floor(units / perMinute);
  return `${Math.floor(minutes / 60)}° ${twoDigits(String(minutes % 60))}' ${twoDigits(seconds)}" ${letter}`;
}

const twoDigits = (number: string): string => (/^\d(?:\.|$)/.test(number) ? `0${number}` : number);
