import { Matrix, QrDecomposition } from 'ml-matrix';
import { done, type Outcome, refuse } from '../survey/outcome';
import { type Crs, type LonLat, localPlane } from './crs';

/** A point of a picture and where it lies. Pixels count from the top left corner of the picture, x right, y down. */
export interface PictureTie extends LonLat {
  readonly xPx: number;
  readonly yPx: number;
}

/** Corners of a picture in the order top left, top right, bottom right, bottom left. */
export type PictureCorners = readonly [LonLat, LonLat, LonLat, LonLat];

export interface PictureFit {
  /** `similarity`: turned, scaled and moved (two points); `affine`: sheared as well (three and more). */
  readonly kind: 'similarity' | 'affine';
  /** How far each tie lies from where the fit puts it, in metres. */
  readonly residualsM: readonly number[];
  /** Their root mean square; null where nothing is left over to check with (two or three ties). */
  readonly rmsM: number | null;
  toLonLat(xPx: number, yPx: number): LonLat;
}

/** Nearer than this two ties say nothing of scale and turn (choice). */
const LEAST_APART_PX = 10;
/** Least height of the widest triangle of the ties, as a part of its longest side (choice). */
const LEAST_HEIGHT = 0.02;

/** x' = a·x + b·y + c, y' = d·x + e·y + f. */
type Affine = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

/**
 * Lays a picture on the ground by ties: exactly by two (similarity) or three (affine), by least squares by more.
 * Lengths are those of a transverse Mercator plane about the first tie. Refusals: `too_few_ties`,
 * `not_a_number`, `ties_too_near`, `ties_in_a_row`.
 */
export function fitPicture(ties: readonly PictureTie[]): Outcome<PictureFit> {
  const [first] = ties;
  if (!first || ties.length < 2) {
    return refuse('too_few_ties', 'Tie at least two points of the picture to the ground, better three.');
  }
  if (!ties.every(({ xPx, yPx, lon, lat }) => [xPx, yPx, lon, lat].every(Number.isFinite))) {
    return refuse('not_a_number', 'One of the tied points has a coordinate that is no number.');
  }
  const plane = localPlane(first.lon, first.lat);
  const ground = ties.map(({ lon, lat }) => plane.toPlane(lon, lat));
  const onPicture = ties.map(({ xPx, yPx }) => [xPx, yPx] as const);
  // Pixels of a distance in metres cannot be compared, so the ground is asked for points that differ at all.
  if (longestSide(onPicture) < LEAST_APART_PX || longestSide(ground) === 0) {
    return refuse('ties_too_near', 'The tied points lie too near each other. Take points far apart in the picture.');
  }
  if (ties.length > 2 && (flatness(onPicture) < LEAST_HEIGHT || flatness(ground) < LEAST_HEIGHT)) {
    return refuse(
      'ties_in_a_row',
      'The tied points lie in a row, so the picture could tip over it. Take one well to the side, or only two.',
    );
  }
  const affine = ties.length === 2 ? similarityOf(onPicture, ground) : affineOf(onPicture, ground);
  const residualsM = onPicture.map(([x, y], i) => {
    const [east, north] = ground[i] as readonly [number, number];
    const [fitEast, fitNorth] = applied(affine, x, y);
    return Math.hypot(fitEast - east, fitNorth - north);
  });
  return done({
    kind: ties.length === 2 ? 'similarity' : 'affine',
    residualsM,
    rmsM: ties.length < 4 ? null : Math.sqrt(residualsM.reduce((sum, r) => sum + r * r, 0) / ties.length),
    toLonLat: (xPx, yPx) => plane.toLonLat(...applied(affine, xPx, yPx)),
  });
}

/** Where the corners of a picture of a width and height in pixels lie. */
export function cornersOf(fit: Pick<PictureFit, 'toLonLat'>, widthPx: number, heightPx: number): PictureCorners {
  return [fit.toLonLat(0, 0), fit.toLonLat(widthPx, 0), fit.toLonLat(widthPx, heightPx), fit.toLonLat(0, heightPx)];
}

/** The six numbers of a world file: how far a step right and a step down lead, and the centre of the first pixel. */
export interface WorldNumbers {
  readonly xPerColumn: number;
  readonly yPerColumn: number;
  readonly xPerRow: number;
  readonly yPerRow: number;
  readonly xOfFirst: number;
  readonly yOfFirst: number;
}

/**
 * Corners of a picture by its world file, in the coordinate system that a person states. The file gives the centre of
 * the first pixel; corners lie half a pixel outside of centres. Refusal: `off_the_earth`.
 */
export function cornersByWorld(
  world: WorldNumbers,
  crs: Pick<Crs, 'code' | 'toLonLat'>,
  widthPx: number,
  heightPx: number,
): Outcome<PictureCorners> {
  const toLonLat = (xPx: number, yPx: number): LonLat => {
    const column = xPx - 0.5;
    const row = yPx - 0.5;
    return crs.toLonLat(
      world.xOfFirst + world.xPerColumn * column + world.xPerRow * row,
      world.yOfFirst + world.yPerColumn * column + world.yPerRow * row,
    );
  };
  const corners = cornersOf({ toLonLat }, widthPx, heightPx);
  // Web maps end at 85°.
  const onEarth = corners.every(({ lon, lat }) => Math.abs(lon) <= 180 && Math.abs(lat) <= 85);
  return onEarth
    ? done(corners)
    : refuse(
        'off_the_earth',
        `Read in ${crs.code}, the world file puts the picture off the map. State the coordinate system it was made in.`,
      );
}

const applied = ([a, b, c, d, e, f]: Affine, x: number, y: number): [number, number] => [
  a * x + b * y + c,
  d * x + e * y + f,
];

type Points = readonly (readonly [x: number, y: number])[];

/** Rows of a picture go down and the ground's north goes up, so y changes its sign. */
function similarityOf(picture: Points, ground: Points): Affine {
  const [[x1, y1], [x2, y2]] = picture as [[number, number], [number, number]];
  const [[e1, n1], [e2, n2]] = ground as [[number, number], [number, number]];
  const dx = x2 - x1;
  const dy = y1 - y2;
  const square = dx * dx + dy * dy;
  const p = ((e2 - e1) * dx + (n2 - n1) * dy) / square;
  const q = ((n2 - n1) * dx - (e2 - e1) * dy) / square;
  return [p, q, e1 - p * x1 - q * y1, q, -p, n1 - q * x1 + p * y1];
}

function affineOf(picture: Points, ground: Points): Affine {
  // Counted from the middle, so that large pixel numbers cost no digits.
  const middleX = picture.reduce((sum, [x]) => sum + x, 0) / picture.length;
  const middleY = picture.reduce((sum, [, y]) => sum + y, 0) / picture.length;
  const design = new Matrix(picture.map(([x, y]) => [x - middleX, y - middleY, 1]));
  const solved = new QrDecomposition(design).solve(new Matrix(ground.map(([east, north]) => [east, north])));
  const [a, b, c] = solved.getColumn(0) as [number, number, number];
  const [d, e, f] = solved.getColumn(1) as [number, number, number];
  return [a, b, c - a * middleX - b * middleY, d, e, f - d * middleX - e * middleY];
}

function longestSide(points: Points): number {
  return Math.max(...points.flatMap(([x, y]) => points.map(([u, v]) => Math.hypot(u - x, v - y))));
}

/** Height of the widest triangle over its longest side; 0 where all lie in a row. */
function flatness(points: Points): number {
  let twiceArea = 0;
  for (const [x1, y1] of points) {
    for (const [x2, y2] of points) {
      for (const [x3, y3] of points) {
        twiceArea = Math.max(twiceArea, Math.abs((x2 - x1) * (y3 - y1) - (x3 - x1) * (y2 - y1)));
      }
    }
  }
  return twiceArea / longestSide(points) ** 2;
}
