import { type LonLat, toLonLat } from '../../position/crs';
import type { Line, Survey } from '../../survey/survey';
import type { Draft, LineDraft, Source } from './draft';
import { FAULTS_TOLD } from './notebook';
import { bareKey, LONGEST_WORD } from './vocabulary';

/*
 * What only shows when all tables are together: lines that cannot be placed, and points whose lon and lat were probably
 * exchanged though both are in range.
 */

/** A fix this far from every other point of its line is suspected. */
const LINE_REACH_M = 5_000;
/** A line this far from every other line is suspected. */
const SITE_REACH_M = 100_000;

/**
 * Faults for lines that cannot be placed: readings by chainage and no placed point, one placed point alone, legs or
 * heights without any. Lines that the survey knows already count with what it knows.
 * @param positionsGiven whether there was a positions table at all; without one it is missed once a file, not once a line.
 */
export function checkLinesPlaced(draft: Draft, into: Survey | undefined, positionsGiven: boolean): void {
  const live = new Map<string, Line>();
  for (const known of into?.lines ?? []) {
    if (!known.retired && !live.has(known.name)) live.set(known.name, known);
  }
  const placed = indexOf([
    ...[...draft.lines.values()].filter((line) => line.fixes.length > 0).map((line) => line.name),
    ...[...live.values()].filter((line) => line.path.length > 0).map((line) => line.name),
  ]);
  const nothingPlaced = !positionsGiven && placed.size === 0;
  for (const line of draft.lines.values()) {
    const known = live.get(line.name);
    const path = known?.path.filter((item) => !item.retired) ?? [];
    const chainages = new Set(line.fixes.map((fix) => fix.chainageM));
    for (const item of path) if (item.kind === 'fix') chainages.add(item.chainage_m);
    const otherWays = line.legs.length + path.filter((item) => item.kind !== 'fix').length;
    if (chainages.size >= 2 || line.ownPlaces.length > 0) continue;
    if (chainages.size === 1) {
      if (otherWays > 0) continue;
      const source = line.fixes[0]?.source ?? line.source;
      const many = line.fixes.length > 1 ? `all at chainage ${[...chainages][0]} m` : 'only one';
      tell(
        source,
        'line',
        line.name,
        'two placed points at different chainages',
        `a line needs two placed points at different chainages; line ${line.name} has ${many}. Add one more, as far along the line as you can.`,
      );
      continue;
    }
    const what =
      line.chainageReadings > 0 ? 'readings by chainage' : line.legs.length > 0 ? 'legs' : 'heights along it';
    const { sheet } = line.source;
    if (nothingPlaced) {
      // Without any placed point the lines are not at fault, the missing file is.
      sheet.notes.faultOnce(
        'no positions',
        { row: null, column: null },
        'no positions.csv',
        'positions.csv beside it, with two placed points for every line',
        `${sheet.file} has ${what}, and there is no positions.csv: it has to have two placed points for every line.`,
      );
      continue;
    }
    const near = sheet.notes.tellsMore ? nearbyName(line.name, placed) : null;
    tell(
      line.source,
      'line',
      line.name,
      `a line with positions${near ? `; is ${near} meant?` : ''}`,
      `line ${line.name} has ${what} and no placed point. Add it to the positions table, with two points at least.${near ? ` Is ${near} meant?` : ''}`,
    );
  }
}

/** Names to be compared with, by their letters and digits alone; the first of a key stands for it. */
type NameIndex = ReadonlyMap<string, string>;

const indexOf = (names: Iterable<string>): NameIndex => {
  const index = new Map<string, string>();
  for (const name of names) if (!index.has(bareKey(name))) index.set(bareKey(name), name);
  return index;
};

/** Whether one letter put in, left out or replaced turns one text into the other, in a single walk from both ends. */
function isOneEdit(p: string, q: string): boolean {
  const shorter = Math.min(p.length, q.length);
  if (Math.max(p.length, q.length) - shorter > 1 || p === q) return false;
  let start = 0;
  while (start < shorter && p[start] === q[start]) start += 1;
  let end = 0;
  while (end < shorter - start && p[p.length - 1 - end] === q[q.length - 1 - end]) end += 1;
  return Math.max(p.length, q.length) - start - end === 1;
}

/** More names than this are not compared letter by letter: help with a slip is not worth waiting for. */
const MOST_COMPARED = 5_000;

/** The known name that was probably meant: the same but for case and spaces, or, unless it is short, one letter apart. */
function nearbyName(name: string, index: NameIndex): string | null {
  const same = index.get(bareKey(name));
  if (same !== undefined) return same;
  // Short names differ by one letter because they are different.
  if (name.length <= 3 || name.length > LONGEST_WORD) return null;
  let compared = 0;
  for (const other of index.values()) {
    compared += 1;
    if (compared > MOST_COMPARED) return null;
    if (isOneEdit(other, name)) return other;
  }
  return null;
}

/**
 * Notes for outings of a remotes table that no reading belongs to: their remote electrodes serve nothing, most often
 * because the outing is spelt in two ways.
 */
export function checkOutingsUsed(draft: Draft, into: Survey | undefined): void {
  const used = new Set<string>();
  for (const { outing } of draft.readings) if (outing !== null) used.add(outing);
  const names = new Map(into?.outings.map((outing) => [outing.id as string, outing.name]));
  for (const { outing } of into?.readings ?? []) {
    const name = outing ? names.get(outing) : undefined;
    if (name !== undefined) used.add(name);
  }
  if (draft.readings.length === 0 && used.size === 0) return;
  const index = indexOf(used);
  let told = 0;
  for (const [name, remotes] of draft.outings) {
    const source = remotes.find((remote) => remote.source.sheet.kind === 'remotes')?.source;
    if (used.has(name) || source === undefined) continue;
    told += 1;
    if (told > FAULTS_TOLD) return;
    const near = nearbyName(name, index);
    const { sheet, row } = source;
    sheet.notes.guessed(
      sheet.where(row, 'outing'),
      name,
      `an outing of the readings${near ? `; is ${near} meant?` : ''}`,
      `${sheet.file}, row ${row.row}: no reading belongs to outing ${name}, so its remote electrodes serve none.${near ? ` Is ${near} meant?` : ''}`,
    );
  }
}

interface Point {
  readonly lonLat: LonLat;
  readonly source: Source;
}

/**
 * Faults for probable exchanges of lon and lat: a point more than 5 km from all others of its line that comes within
 * that distance when exchanged, and a line more than 100 km from all other lines likewise.
 */
export function checkSwaps(draft: Draft, into: Survey | undefined): void {
  const centres: { readonly lonLat: LonLat; readonly line: LineDraft | null }[] = [];
  for (const line of draft.lines.values()) {
    const points: readonly Point[] = [...line.fixes, ...line.ownPlaces];
    if (points.length === 0) continue;
    const centre = medianPlace(points);
    const swapped = swappedWithin(points, centre);
    for (const point of swapped) {
      tell(
        point.source,
        latColumn(point.source),
        `${point.lonLat.lon}, ${point.lonLat.lat}`,
        'a place near the rest of its line',
        points.length === 2
          ? `the two points of line ${line.name} lie far apart, and near each other once lon and lat of one are exchanged: they are probably swapped in one of the two.`
          : `this point lies more than 5 km from the rest of line ${line.name}, and near it once lon and lat are exchanged: they are probably swapped.`,
      );
    }
    if (swapped.length === 0) centres.push({ lonLat: centre, line });
  }
  for (const known of into?.lines ?? []) {
    const place = draft.lines.has(known.name) ? null : placeOf(known, into);
    if (place) centres.push({ lonLat: place, line: null });
  }
  checkWholeLines(centres);
}

function checkWholeLines(centres: readonly { readonly lonLat: LonLat; readonly line: LineDraft | null }[]): void {
  const spots = centres.map((centre) => spotOf(centre.lonLat));
  const neighbourhood = new Neighbourhood(spots, SITE_REACH_M);
  const suspects = centres.filter(({ lonLat }, i) => isSuspect(lonLat, spots[i] as Spot, neighbourhood));
  // Of two lines each is the other's suspect; the later one is named.
  const told = centres.length === 2 ? suspects.slice(-1) : suspects;
  for (const { line, lonLat } of told) {
    if (!line) continue;
    const source = line.fixes[0]?.source ?? line.ownPlaces[0]?.source ?? line.source;
    tell(
      source,
      latColumn(source),
      `${lonLat.lon}, ${lonLat.lat}`,
      'a place near the other lines',
      `line ${line.name} lies more than 100 km from every other line, and near one once lon and lat are exchanged: they are probably swapped.`,
    );
  }
}

function placeOf(line: Line, into: Survey | undefined): LonLat | null {
  for (const item of line.path) {
    if (item.kind !== 'fix' || item.retired) continue;
    const placed = toLonLat(item.position, into?.site.local_grids ?? []);
    if (placed.ok) return placed.value;
  }
  return null;
}

function latColumn({ sheet }: Source): 'lat' | 'first_lat' | 'northing' | 'first_northing' {
  return (['lat', 'first_lat', 'northing', 'first_northing'] as const).find((field) => sheet.has(field)) ?? 'lat';
}

function tell(
  { sheet, row }: Source,
  field: 'line' | ReturnType<typeof latColumn>,
  read: string,
  expected: string,
  sentence: string,
): void {
  sheet.notes.fault(sheet.where(row, field), read, expected, `${sheet.file}, row ${row.row}: ${sentence}`);
}

/** Every point that has none of the others within reach, but would have one with lon and lat exchanged. */
function swappedWithin(points: readonly Point[], centre: LonLat): readonly Point[] {
  const middle = spotOf(centre);
  const spots = points.map((point) => spotOf(point.lonLat));
  const far = spots.flatMap((spot, i) => (distanceM(spot, middle) > LINE_REACH_M ? [i] : []));
  if (far.length === 0) return [];

  const neighbourhood = new Neighbourhood(spots, LINE_REACH_M);
  const suspects = far.filter((i) => isSuspect((points[i] as Point).lonLat, spots[i] as Spot, neighbourhood));
  // Of two points each is the other's suspect; the later one is named.
  const told = points.length === 2 ? suspects.slice(-1) : suspects;
  return told.map((i) => points[i] as Point);
}

/** Whether a place has no other near it, and would have one with lon and lat exchanged. */
function isSuspect(lonLat: LonLat, spot: Spot, neighbourhood: Neighbourhood): boolean {
  if (neighbourhood.hasOther(spot, spot)) return false;
  const exchanged = exchange(lonLat);
  return exchanged !== null && neighbourhood.hasOther(spotOf(exchanged), spot);
}

/**
 * Which places have others near them, by counting in cells as wide as the reach: what is in no neighbouring cell is
 * beyond the reach for certain, and however the places lie the cost is 27 looks a place, never their square.
 */
class Neighbourhood {
  private readonly counts = new Map<string, number>();

  constructor(
    spots: readonly Spot[],
    private readonly reachM: number,
  ) {
    for (const spot of spots) {
      const key = this.cellOf(spot).join(' ');
      this.counts.set(key, (this.counts.get(key) ?? 0) + 1);
    }
  }

  /** Whether any place but `self`, one of the counted, is in the cells around a spot. */
  hasOther(spot: Spot, self: Spot): boolean {
    const own = this.cellOf(self).join(' ');
    const [cx, cy, cz] = this.cellOf(spot);
    for (let x = cx - 1; x <= cx + 1; x += 1) {
      for (let y = cy - 1; y <= cy + 1; y += 1) {
        for (let z = cz - 1; z <= cz + 1; z += 1) {
          const key = `${x} ${y} ${z}`;
          if ((this.counts.get(key) ?? 0) > (key === own ? 1 : 0)) return true;
        }
      }
    }
    return false;
  }

  private cellOf(spot: Spot): Spot {
    const { reachM } = this;
    return [Math.floor(spot[0] / reachM), Math.floor(spot[1] / reachM), Math.floor(spot[2] / reachM)];
  }
}

function exchange({ lon, lat }: LonLat): LonLat | null {
  return Math.abs(lon) <= 90 ? { lon: lat, lat: lon } : null;
}

function medianPlace(points: readonly Point[]): LonLat {
  const middle = (values: number[]): number => values.sort((p, q) => p - q)[(values.length - 1) >> 1] as number;
  return {
    lon: middle(points.map((point) => point.lonLat.lon)),
    lat: middle(points.map((point) => point.lonLat.lat)),
  };
}

type Spot = readonly [x: number, y: number, z: number];

/** Earth-centred coordinates on the WGS 84 ellipsoid, metres: straight distances serve for near and far alike. */
function spotOf({ lon, lat }: LonLat): Spot {
  const semiMajorM = 6_378_137;
  const flattening = 1 / 298.257223563;
  const eccentricity2 = flattening * (2 - flattening);
  const phi = (lat * Math.PI) / 180;
  const lambda = (lon * Math.PI) / 180;
  const normalM = semiMajorM / Math.sqrt(1 - eccentricity2 * Math.sin(phi) ** 2);
  return [
    normalM * Math.cos(phi) * Math.cos(lambda),
    normalM * Math.cos(phi) * Math.sin(lambda),
    normalM * (1 - eccentricity2) * Math.sin(phi),
  ];
}

const distanceM = (p: Spot, q: Spot): number => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
