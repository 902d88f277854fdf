import { readPlaceText } from '../../position/coordinate-text';
import { type LonLat, toLonLat } from '../../position/crs';
import { geodesicDistanceM } from '../../position/geodesic';
import type { Position } from '../../survey/survey';
import type { CellOf } from './karst-columns';
import { type SaidAngle, type SaidPlace, saidAngle, saidPlace } from './karst-dms';
import { type FeatureFault, fault, type NamedRow, type RawFeature, sayRow } from './karst-raw';

/*
 * Where a feature of a file is, and whether what the file says of it twice is the same.
 */

export interface FoundPlace {
  readonly positions: readonly Position[];
  readonly faults: readonly FeatureFault[];
  /** Metres east and north from its coordinates to its second statement, where both can be compared. */
  readonly shift: readonly [eastM: number, northM: number] | null;
}

const plainNumber = (text: string): number | null =>
  /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(text)
    ? Number(text)
    : /^[+-]?\d+,\d+$/.test(text)
      ? Number(text.replace(',', '.'))
      : null;

/** The positions of a feature with what is wrong about them; no positions = it was left out, with its fault. */
export function placeOf(row: NamedRow, cell: CellOf, crs: string | null): FoundPlace {
  const { raw, name } = row;
  const second = secondStatement(raw, cell);
  let positions = raw.positions;
  if (positions.length === 0) {
    const found = fromCells(raw, cell, crs, second);
    if (typeof found === 'string')
      return leftOut(
        row,
        found === '' ? 'no_place' : 'impossible_coordinates',
        found,
        `${sayRow(row)} has no place that can be read${found === '' ? '' : ` (“${found.slice(0, 60)}”)`} and was left out.`,
      );
    positions = [found];
  }
  for (const position of positions) {
    const placed = toLonLat(position, []);
    const onEarth = placed.ok && Number.isFinite(placed.value.lon) && Number.isFinite(placed.value.lat);
    if (onEarth) continue;
    const { x, y, crs: code } = position;
    const swapped = code === 'EPSG:4326' && Math.abs(x) <= 90 && Math.abs(y) <= 180;
    return leftOut(
      row,
      swapped ? 'probable_lon_lat_swap' : 'impossible_coordinates',
      `${x}, ${y}`,
      `${sayRow(row)}: longitude ${x}, latitude ${y} ${swapped ? 'is not on the Earth; the two are probably exchanged' : `is no place in ${code}`}. It was left out.`,
    );
  }
  const [first] = positions as readonly [Position];
  if (first.crs === 'EPSG:4326' && first.x === 0 && first.y === 0) {
    return leftOut(
      row,
      'no_place',
      '0, 0',
      `${sayRow(row)} has the coordinates 0, 0, which stand for none. It was left out.`,
    );
  }
  let faults: readonly FeatureFault[] = NO_FAULTS;
  if (raw.shape === 'point' && first.crs === 'EPSG:4326' && first.x === first.y) {
    faults = [
      fault(
        'lon_equals_lat',
        raw.row,
        `${first.x}, ${first.y}`,
        `${sayRow(row)}: longitude and latitude are the same number, ${first.x}. One of them was probably written twice.`,
        { name, leftOut: false },
      ),
    ];
  }
  const compared =
    raw.shape === 'point' && second
      ? compare(row, first, second, raw.positions.length === 0 ? [cell(raw, 'lon'), cell(raw, 'lat')] : [])
      : null;
  if (compared) faults = [...faults, ...compared.faults];
  return { positions, faults, shift: compared?.shift ?? null };
}

const NO_FAULTS: readonly FeatureFault[] = [];

const leftOut = (row: NamedRow, code: FeatureFault['code'], read: string, sentence: string): FoundPlace => ({
  positions: [],
  faults: [fault(code, row.raw.row, read, sentence, { name: row.name })],
  shift: null,
});

/** A place by decimals, by a grid, or by angles as text; else the text that cannot be read, "" for nothing at all. */
function fromCells(raw: RawFeature, cell: CellOf, crs: string | null, second: SaidPlace | null): Position | string {
  const [lonText, latText] = [cell(raw, 'lon'), cell(raw, 'lat')];
  if (lonText !== null && latText !== null) {
    const [lon, lat] = [plainNumber(lonText), plainNumber(latText)];
    if (lon !== null && lat !== null)
      return { x: lon, y: lat, crs: crs !== null && isMetres(lon, lat) ? crs : 'EPSG:4326' };
    const [lonAngle, latAngle] = [saidAngle(lonText), saidAngle(latText)];
    if (lonAngle && latAngle && !lonAngle.impossible && !latAngle.impossible) {
      return { x: lonAngle.deg, y: latAngle.deg, crs: 'EPSG:4326', as_entered: [latText, lonText] };
    }
    const read = readPlaceText([latText, lonText]);
    return read.ok ? placeText(read.value, [latText, lonText]) : `${latText}, ${lonText}`;
  }
  const [eastText, northText] = [cell(raw, 'easting'), cell(raw, 'northing')];
  if (eastText !== null && northText !== null) {
    const [x, y] = [plainNumber(eastText), plainNumber(northText)];
    const said = cell(raw, 'epsg');
    const code = said === null ? crs : /^\d+$/.test(said) ? `EPSG:${said}` : said.toUpperCase();
    if (x === null || y === null || code === null)
      return `${eastText}, ${northText}${code === null ? ' of no named system' : ''}`;
    return { x, y, crs: code };
  }
  if (second && !second.lat.impossible && !second.lon.impossible) {
    return { x: second.lon.deg, y: second.lat.deg, crs: 'EPSG:4326', as_entered: [second.lat.text, second.lon.text] };
  }
  const text = cell(raw, 'place_text');
  if (text === null) return second ? second.text : (lonText ?? latText ?? eastText ?? northText ?? '');
  const read = readPlaceText(text);
  return read.ok ? placeText(read.value, [text]) : text;
}

const isMetres = (x: number, y: number): boolean => Math.abs(x) > 360 || Math.abs(y) > 360;
const placeText = ({ x, y, crs }: { x: number; y: number; crs: string }, entered: readonly string[]): Position => ({
  x,
  y,
  crs,
  as_entered: entered,
});

/** What a row says of its place beside its coordinates: in columns of their own, or in any of its texts. */
function secondStatement(raw: RawFeature, cell: CellOf): SaidPlace | null {
  const [latText, lonText] = [cell(raw, 'lat_text'), cell(raw, 'lon_text')];
  if (latText !== null && lonText !== null) {
    const [lat, lon] = [saidAngle(latText), saidAngle(lonText)];
    if (lat && lon) return { text: `${latText}, ${lonText}`, lat, lon };
  }
  const named = cell(raw, 'place_text');
  const inText = named === null ? null : saidPlace(named);
  if (inText) return inText;
  for (const key in raw.fields) {
    const text = raw.fields[key] as string;
    const found = text.includes('°') ? saidPlace(text) : null;
    if (found) return found;
  }
  return null;
}

/** Metres of a degree of latitude, roughly: for roundings only. */
const DEGREE_M = 111_320;

/** Compares a position with what is said of it in degrees, minutes and seconds, as far as its last digit can tell. */
function compare(
  row: NamedRow,
  position: Position,
  { text, lat, lon }: SaidPlace,
  cells: readonly (string | null)[],
): Pick<FoundPlace, 'faults' | 'shift'> {
  const { raw, name } = row;
  const faults: FeatureFault[] = [];
  const impossible = lat.impossible ?? lon.impossible;
  const here = toLonLat(position, []);
  if (!here.ok) return { faults, shift: null };
  const there: LonLat = { lon: lon.deg, lat: lat.deg };
  const isOnEarth = Math.abs(there.lat) <= 90 && Math.abs(there.lon) <= 180;
  const distanceM = isOnEarth ? geodesicDistanceM(here.value, there) : null;
  const toleranceM = 1 + roundingM(lat, lon, here.value.lat) + decimalsM(position, cells);
  const agrees = distanceM !== null && distanceM <= toleranceM;
  if (impossible) {
    const then = agrees
      ? ' Carried over, it agrees with the coordinates.'
      : distanceM === null
        ? ''
        : ` Carried over, it would be ${lengthText(distanceM)} from the coordinates.`;
    faults.push(
      fault(
        'impossible_dms',
        raw.row,
        text,
        `${sayRow(row)}: “${text}” says ${impossible}, which no ${lat.impossible ? 'latitude' : 'longitude'} has.${then} The coordinates were taken.`,
        { name, leftOut: false, distanceM },
      ),
    );
  } else if (distanceM !== null && !agrees) {
    const same =
      lat.text.replace(/\D/g, '') === lon.text.replace(/\D/g, '')
        ? ' Latitude and longitude of the text are the same figures.'
        : '';
    faults.push(
      fault(
        'place_said_twice_differs',
        raw.row,
        text,
        `${sayRow(row)}: “${text}” is ${lengthText(distanceM)} from its coordinates ${position.y}, ${position.x}; the digits allow ${lengthText(toleranceM)}.${same} The coordinates were taken.`,
        { name, leftOut: false, distanceM },
      ),
    );
  }
  const shift: FoundPlace['shift'] =
    distanceM === null || impossible
      ? null
      : [
          (there.lon - here.value.lon) * DEGREE_M * Math.cos((here.value.lat * Math.PI) / 180),
          (there.lat - here.value.lat) * DEGREE_M,
        ];
  return { faults, shift };
}

const roundingM = (lat: SaidAngle, lon: SaidAngle, latDeg: number): number =>
  Math.hypot(lat.roundingDeg, lon.roundingDeg * Math.cos((latDeg * Math.PI) / 180)) * DEGREE_M;

/** Half of the last digit of the decimals: numbers lose their trailing zeros, so that of the longer one counts for both. */
function decimalsM({ x, y, crs }: Position, cells: readonly (string | null)[]): number {
  if (crs !== 'EPSG:4326') return 1;
  const digits = Math.max(...[x, y, ...cells].map((value) => /[.,](\d+)$/.exec(String(value))?.[1]?.length ?? 0));
  return (0.5 / 10 ** Math.min(12, digits)) * DEGREE_M * Math.SQRT2;
}

const lengthText = (lengthM: number): string =>
  lengthM >= 10_000
    ? `${(lengthM / 1000).toFixed(0)} km`
    : lengthM >= 10
      ? `${lengthM.toFixed(0)} m`
      : `${lengthM.toFixed(1)} m`;

/** Few rows disagree by chance in one and the same way: then the two statements are in two datums. */
export function datumShift(shifts: readonly (readonly [number, number])[]): FeatureFault | null {
  const away = shifts.filter(([east, north]) => Math.hypot(east, north) > 3);
  if (away.length < 5 || away.length < 0.8 * shifts.length) return null;
  const middle = (values: number[]): number => values.sort((p, q) => p - q)[values.length >> 1] as number;
  const [east, north] = [middle(away.map(([e]) => e)), middle(away.map(([, n]) => n))];
  const spread = middle(away.map(([e, n]) => Math.hypot(e - east, n - north)));
  const length = Math.hypot(east, north);
  if (length < 5 || length > 1000 || spread > 0.3 * length) return null;
  return fault(
    'datum_shift_suspected',
    null,
    `${away.length} of ${shifts.length} rows`,
    `In ${away.length} of ${shifts.length} rows the two statements of the place differ in the same way, by about ${east.toFixed(0)} m east and ${north.toFixed(0)} m north. They are probably in two datums.`,
    { leftOut: false, distanceM: length },
  );
}
