import { type LonLat, toLonLat } from '../../position/crs';
import type { Line, Survey } from '../../survey/survey';
import type { Draft, LineDraft, Source } from './draft';
import { editDistance } from './headers';
import { bareKey } from './vocabulary';

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
 */
export function checkLinesPlaced(draft: Draft, into: Survey | undefined): void {
  for (const line of draft.lines.values()) {
    const known = into?.lines.find((candidate) => candidate.name === line.name && !candidate.retired);
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
    const near = nearbyName(line, draft, into);
    const what =
      line.chainageReadings > 0 ? 'readings by chainage' : line.legs.length > 0 ? 'legs' : 'heights along it';
    tell(
      line.source,
      'line',
      line.name,
      'a line with positions',
      `line ${line.name} has ${what} and no placed point. Add it to the positions table, with two points at least.${near ? ` Is ${near} meant?` : ''}`,
    );
  }
}

function nearbyName(line: LineDraft, draft: Draft, into: Survey | undefined): string | null {
  const placed = [
    ...[...draft.lines.values()].filter((other) => other.fixes.length > 0).map((other) => other.name),
    ...(into?.lines.filter((other) => other.path.length > 0).map((other) => other.name) ?? []),
  ];
  const sameKey = placed.find((name) => bareKey(name) === bareKey(line.name));
  // Short names differ by one letter because they are different lines.
  return (
    sameKey ?? (line.name.length > 3 ? (placed.find((name) => editDistance(name, line.name) === 1) ?? null) : null)
  );
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
  const isNear = (spot: Spot, but: number): boolean =>
    spots.some((other, i) => i !== but && distanceM(spot, other) <= SITE_REACH_M);
  const suspects = centres.filter(({ lonLat }, i) => {
    if (isNear(spots[i] as Spot, i)) return false;
    const exchanged = exchange(lonLat);
    return exchanged !== null && isNear(spotOf(exchanged), i);
  });
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

  // Cells as wide as the reach, so that a neighbour can only be in one of 27: a long line must not cost its square.
  const cells = new Map<string, number[]>();
  const cellOf = (spot: Spot) => spot.map((metres) => Math.floor(metres / LINE_REACH_M));
  spots.forEach((spot, i) => {
    const key = cellOf(spot).join(' ');
    const cell = cells.get(key);
    if (cell) cell.push(i);
    else cells.set(key, [i]);
  });
  const hasNeighbour = (spot: Spot, but: number): boolean => {
    const [cx = 0, cy = 0, cz = 0] = cellOf(spot);
    for (let dx = -1; dx <= 1; dx += 1) {
      for (let dy = -1; dy <= 1; dy += 1) {
        for (let dz = -1; dz <= 1; dz += 1) {
          const cell = cells.get(`${cx + dx} ${cy + dy} ${cz + dz}`) ?? [];
          if (cell.some((i) => i !== but && distanceM(spot, spots[i] as Spot) <= LINE_REACH_M)) return true;
        }
      }
    }
    return false;
  };
  const suspects = far.filter((i) => {
    const exchanged = exchange((points[i] as Point).lonLat);
    return exchanged !== null && !hasNeighbour(spots[i] as Spot, i) && hasNeighbour(spotOf(exchanged), i);
  });
  // Of two points each is the other's suspect; the later one is named.
  const told = points.length === 2 ? suspects.slice(-1) : suspects;
  return told.map((i) => points[i] as Point);
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
