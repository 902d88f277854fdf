import { done, type Outcome, refuse } from '../survey/outcome';
import type { LocalGrid } from '../survey/survey';
import { type AngleText, readAngle } from './angle-text';
import { crsOf, type LonLat, toLonLat } from './crs';
import { readMetrePair, readZone, zoneEpsg } from './grid-text';
import { looksLikeMgrs, looksLikePolarMgrs, readMgrs } from './mgrs';

/** A place read from text. */
export interface PlaceText {
  /** In the system as written: `x` east or longitude, `y` north or latitude. */
  readonly x: number;
  readonly y: number;
  readonly crs: string;
  readonly lonLat: LonLat;
  /** What was written, piece by piece; null for two plain decimals, which say the same. */
  readonly asEntered: readonly string[] | null;
  /** Side in metres of the square that an MGRS reference names, the place being its middle; else null. */
  readonly cellM: number | null;
  /**
   * How longitude and latitude were told apart: by letters or words, because only one order fits, or by the usual order.
   * Null for a grid.
   */
  readonly order: 'said' | 'only_fit' | 'assumed' | null;
}

export interface TextHints {
  /** System of two plain numbers (`EPSG:n` or `grid:NAME`), when they are not degrees of WGS 84. */
  readonly crs?: string | null;
  /** A place of the site, for `15S`. */
  readonly near?: LonLat | null;
  /** Order of two plain degrees; latitude first unless told otherwise. */
  readonly order?: 'lat_lon' | 'lon_lat';
  /** Local grids of the site, for a `grid:NAME` in `crs`. */
  readonly grids?: readonly LocalGrid[];
}

/** No place is longer; a longer text would cost the patterns its square. */
const LONGEST = 150;
/** Beyond this a number is no degree. */
const MOST_DEGREES = 180;

/**
 * Reads a place as people write it, in one text or in two: decimal degrees (`47.51, 10.25`, `47,51 10,25`,
 * `10.25E 47.5N`), degrees and minutes, degrees, minutes and seconds, UTM (`32N 500000 5200000`, `32T…`), a system by its
 * code (`EPSG:32632 500000 5200000`), MGRS (`32TNT9414161486`; the place is the middle of its square).
 * Latitude comes first unless letters, words or the range say otherwise. A short decimal is never degrees and minutes.
 * Refusals: `not_a_place`, `half_a_place`, `one_number_or_two` (`47,51` alone), `needs_crs`, `two_of_one_axis`, `outside_crs`,
 * those of `readAngle`, `readMgrs`, `zoneEpsg`, `crsOf`.
 */
export function readPlaceText(text: string | readonly [string, string], hints: TextHints = {}): Outcome<PlaceText> {
  const pieces = typeof text === 'string' ? [text] : text;
  const joined = pieces.map((piece) => piece.trim()).join('; ');
  if (joined.length > LONGEST) return notAPlace(`${joined.slice(0, LONGEST)}…`);
  const whole = joined
    .replace(/[\u00a0\u2000-\u200b\u202f\u2060\ufeff]/g, ' ')
    .replace(/^[([]+|[)\]]+$/g, '')
    .trim();
  const entered = pieces.map((piece) => piece.trim());
  if (looksLikeMgrs(whole) || looksLikePolarMgrs(whole)) return fromMgrs(whole, entered);

  const coded = /^(EPSG:\s*\d+)[\s,;:]+(.+)$/i.exec(whole) ?? reversed(/^(.+?)[\s,;]+\(?(EPSG:\s*\d+)$/i.exec(whole));
  if (coded) return inSystem((coded[1] as string).toUpperCase().replace(/\s/g, ''), coded[2] as string, entered, hints);
  const zoned = fromZone(whole, entered, hints);
  if (zoned) return zoned;
  return inSystem(hints.crs ?? 'EPSG:4326', whole, entered, hints);
}

const reversed = (match: RegExpExecArray | null): readonly string[] | null =>
  match && [match[0], match[2] as string, match[1] as string];

function fromMgrs(whole: string, entered: readonly string[]): Outcome<PlaceText> {
  const cell = readMgrs(whole);
  if (!cell.ok) return cell;
  const { epsg, easting, northing, sideM } = cell.value;
  return placed(easting + sideM / 2, northing + sideM / 2, epsg, { entered, cellM: sideM });
}

/** UTM by its zone, before or behind the numbers; null when the text has none. */
function fromZone(whole: string, entered: readonly string[], { near = null }: TextHints): Outcome<PlaceText> | null {
  const zonePart = String.raw`(?:utm\s*)?(?:zone\s*)?\d{1,2}\s*(?:north|south|nord|süd|sud|norte|sur|[a-z])`;
  const parts =
    new RegExp(`^(${zonePart})[\\s,;:]+(\\S.*)$`, 'i').exec(whole) ??
    reversed(new RegExp(`^(.*\\S)[\\s,;]+(${zonePart})$`, 'i').exec(whole));
  const zone = readZone(parts?.[1] ?? '');
  const pair = readMetrePair(parts?.[2] ?? '');
  // `47 N 10 15` begins like a zone too; no easting is that small.
  if (!zone || !pair || Math.abs(pair[0]) <= MOST_DEGREES) return null;
  const epsg = zoneEpsg(zone, pair[0], pair[1], near);
  return epsg.ok ? placed(pair[0], pair[1], epsg.value, { entered }) : epsg;
}

function inSystem(code: string, numbers: string, entered: readonly string[], hints: TextHints): Outcome<PlaceText> {
  if (!code.startsWith('grid:')) {
    const crs = crsOf(code);
    if (!crs.ok) return crs;
    if (crs.value.unit === 'degree') return fromDegrees(code, numbers, entered, hints);
  }
  const pair = readMetrePair(numbers);
  if (!pair) {
    return refuse(
      'not_a_place',
      `"${numbers}" is not an easting and a northing of ${code}. Write two numbers, such as 500000 5200000.`,
    );
  }
  return placed(pair[0], pair[1], code, { entered, grids: hints.grids });
}

function fromDegrees(
  code: string,
  numbers: string,
  entered: readonly string[],
  { order = 'lat_lon' }: TextHints,
): Outcome<PlaceText> {
  const metres = readMetrePair(numbers);
  if (metres?.every((value) => Math.abs(value) > MOST_DEGREES)) {
    return refuse(
      'needs_crs',
      `"${numbers}" are metres of some grid. Say which: put the UTM zone (32 north) or an EPSG code (EPSG:32632) in front.`,
    );
  }
  const angles = readAnglePair(numbers);
  if (!angles.ok) return angles;
  const [first, second] = angles.value;
  if (first.axis !== null && first.axis === second.axis) {
    const axis = first.axis === 'lat' ? 'latitudes' : 'longitudes';
    return refuse('two_of_one_axis', `"${numbers}" gives two ${axis}. One of the letters is wrong.`);
  }
  const isSaid = first.axis !== null || second.axis !== null;
  const saysLatFirst = first.axis === 'lat' || second.axis === 'lon';
  // Out of reach of a latitude, a number can only be the longitude.
  const onlyLonFirst = Math.abs(first.deg) > 90 && Math.abs(second.deg) <= 90;
  const onlyLatFirst = Math.abs(second.deg) > 90 && Math.abs(first.deg) <= 90;
  const isLatFirst = isSaid ? saysLatFirst : onlyLonFirst ? false : onlyLatFirst || order === 'lat_lon';
  const [lat, lon] = isLatFirst ? [first.deg, second.deg] : [second.deg, first.deg];
  if (Math.abs(lat) > 90 || Math.abs(lon) > MOST_DEGREES) {
    return refuse(
      'outside_crs',
      `Latitude ${lat}° and longitude ${lon}° are not on the Earth. Latitudes end at 90°, longitudes at 180°; are the letters exchanged?`,
    );
  }
  const composed = first.composed || second.composed || entered.length === 1;
  return placed(lon, lat, code, {
    entered: composed ? entered : null,
    order: isSaid ? 'said' : onlyLonFirst || onlyLatFirst ? 'only_fit' : 'assumed',
  });
}

interface Known {
  readonly entered: readonly string[] | null;
  readonly cellM?: number | null;
  readonly order?: PlaceText['order'];
  readonly grids?: readonly LocalGrid[] | undefined;
}

function placed(
  x: number,
  y: number,
  crs: string,
  { entered, cellM = null, order = null, grids = [] }: Known,
): Outcome<PlaceText> {
  const lonLat = toLonLat({ x, y, crs }, grids);
  return lonLat.ok ? done({ x, y, crs, lonLat: lonLat.value, asEntered: entered, cellM, order }) : lonLat;
}

type AnglePair = readonly [AngleText, AngleText];

/** Two angles in one text. Every way to part it is tried, the plainest kind of mark first; two answers are a refusal. */
function readAnglePair(text: string): Outcome<AnglePair> {
  const labelled = byLabels(text);
  if (labelled) return labelled;
  for (const cuts of waysToPart(text)) {
    const found = new Map<string, AnglePair>();
    for (const [before, after] of cuts) {
      const [first, second] = [readAngle(before), readAngle(after)];
      if (first.ok && second.ok) {
        found.set(`${first.value.deg} ${second.value.deg}`, [first.value, second.value]);
      } else {
        const refusal = [first, second].find((angle) => !angle.ok && angle.code !== 'not_an_angle');
        // A lone O, or a minus beside a letter, is told in its own words; what is no angle may be parted otherwise.
        if (refusal && cuts.length === 1) return refusal as Outcome<AnglePair>;
      }
    }
    const [only] = found.values();
    if (found.size === 1 && only) {
      return /^\d+,\d+$/.test(text.trim()) ? oneOrTwo(text) : done(only);
    }
    if (found.size > 1) {
      return refuse('not_a_place', `"${text}" can be read in more than one way. Put a semicolon between the two.`);
    }
  }
  const lone = readAngle(text);
  if (!lone.ok) return notAPlace(text);
  return /^\d+,\d+$/.test(text.trim()) ? oneOrTwo(text) : halfAPlace(text);
}

function byLabels(text: string): Outcome<AnglePair> | null {
  const label = String.raw`(lat(?:itude)?|lon(?:gitude)?|long|lng)\.?\s*[:=]?\s*`;
  const parts = new RegExp(`^${label}(.+?)[\\s,;]+${label}(.+)$`, 'i').exec(text.trim());
  if (!parts) return null;
  const axisOf = (word: string | undefined): 'lat' | 'lon' => (/^la/i.test(word ?? '') ? 'lat' : 'lon');
  const [first, second] = [readAngle(parts[2] as string), readAngle(parts[4] as string)];
  if (!first.ok) return first;
  if (!second.ok) return second;
  const named = (angle: AngleText, axis: 'lat' | 'lon'): AngleText => ({
    ...angle,
    axis: angle.axis ?? axis,
    composed: true,
  });
  return done([named(first.value, axisOf(parts[1])), named(second.value, axisOf(parts[3]))]);
}

type Cut = readonly [before: string, after: string];

function* waysToPart(text: string): Generator<readonly Cut[]> {
  const at = (pattern: RegExp): readonly Cut[] =>
    [...text.matchAll(pattern)].map(({ index, 0: mark }) => [text.slice(0, index), text.slice(index + mark.length)]);
  yield at(/\s*[;|/\t\n]\s*/g);
  // Letters of the hemispheres, before or behind the numbers: N47 30.5 E10 15.2, 47.5N10.25E.
  if ((text.match(/[NSEWO](?![a-zäöüéèêß])/gi) ?? []).length >= 2 || /[a-z]{3}/i.test(text)) {
    yield [...at(/[\s,]+/g), ...at(/(?<=[A-Za-z])(?=[\d+-])/g), ...at(/(?<=[\d'"°])(?=[A-Za-z])/g)].filter((cut) =>
      cut.every((part) => /[NSEWO]/i.test(part.trim())),
    );
  }
  yield at(/\s*,\s+/g);
  if (!/\s/.test(text.trim())) yield at(/,/g);
  // Two angles with their signs, or two of equally many numbers.
  const degrees = [...text.matchAll(/[°ºd]/gi)];
  if (degrees.length === 2) yield at(/[\s,]+(?=[+-]?[\d.]+\s*[°ºd])/gi).filter(([before]) => before.trim() !== '');
  const words = text.trim().split(/\s+/);
  if (words.length % 2 === 0) {
    const half = words.length / 2;
    yield [[words.slice(0, half).join(' '), words.slice(half).join(' ')]];
  }
}

function oneOrTwo(text: string): Outcome<never> {
  return refuse(
    'one_number_or_two',
    `"${text.trim()}" is one number, or two without their decimals. Write latitude and longitude with a space or a semicolon between them: 47.51; 10.25.`,
  );
}

function halfAPlace(text: string): Outcome<never> {
  return refuse(
    'half_a_place',
    `"${text.trim()}" is one angle, and a place needs two. Write latitude and longitude: 47.51, 10.25.`,
  );
}

function notAPlace(text: string): Outcome<never> {
  return refuse(
    'not_a_place',
    `"${text}" is not a place. Write degrees (47.51, 10.25 or 47° 30' 36" N 10° 15' E), UTM (32 north 500000 5200000), or MGRS (32T NT 94141 61486).`,
  );
}
