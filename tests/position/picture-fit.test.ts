import { Matrix, solve } from 'ml-matrix';
import proj4 from 'proj4';
import { describe, expect, it } from 'vitest';
import { crsOf } from '../../src/position/crs';
import { cornersByWorld, fitPicture, type PictureTie } from '../../src/position/picture-fit';

/*
 * The ground is laid out here by proj4 (a library of its own) in a transverse Mercator plane about the first tie, with
 * transformations written down by hand; the fit has to find them again.
 */
const ORIGIN = { lon: 14.2, lat: 45.7 };
const plane = proj4(
  '+proj=longlat +datum=WGS84',
  `+proj=tmerc +lat_0=${ORIGIN.lat} +lon_0=${ORIGIN.lon} +k=1 +datum=WGS84`,
);
const tie = (xPx: number, yPx: number, east: number, north: number): PictureTie => {
  const [lon, lat] = plane.inverse([east, north]) as [number, number];
  return { xPx, yPx, lon, lat };
};
const fitted = (ties: readonly PictureTie[]) => {
  const fit = fitPicture(ties);
  if (!fit.ok) throw new Error(fit.sentence);
  return fit.value;
};
const groundOf = ({ lon, lat }: { lon: number; lat: number }) => plane.forward([lon, lat]) as [number, number];

describe('a picture tied to the ground', () => {
  it('is turned and scaled by two points', () => {
    // By hand: half a metre a pixel, turned by 90° to the left: right is north, up is west.
    const fit = fitted([tie(100, 100, 0, 0), tie(300, 100, 0, 100)]);
    expect(fit.kind).toBe('similarity');
    const [east, north] = groundOf(fit.toLonLat(100, 40));
    expect(east).toBeCloseTo(-30, 6);
    expect(north).toBeCloseTo(0, 6);
  });

  it('keeps its up upward when two points lie level on a map with north up', () => {
    const fit = fitted([tie(0, 0, 0, 0), tie(1000, 0, 500, 0)]);
    const [east, north] = groundOf(fit.toLonLat(0, 200));
    expect(east).toBeCloseTo(0, 6);
    expect(north).toBeCloseTo(-100, 6);
  });

  it('is sheared as well by three, exactly', () => {
    // By hand: east = 0.4 x + 0.1 y, north = 0.05 x − 0.5 y.
    const ground = (x: number, y: number): [number, number] => [0.4 * x + 0.1 * y, 0.05 * x - 0.5 * y];
    const fit = fitted(
      [
        [0, 0],
        [900, 30],
        [200, 700],
      ].map(([x = 0, y = 0]) => tie(x, y, ...ground(x, y))),
    );
    expect(fit.kind).toBe('affine');
    expect(fit.rmsM).toBeNull();
    const [east, north] = groundOf(fit.toLonLat(640, 480));
    expect(east).toBeCloseTo(304, 6);
    expect(north).toBeCloseTo(-208, 6);
  });

  it('is laid by least squares by more, and says what is left over', () => {
    // A square of 200 m whose corners are pulled 2 m by turns: by hand, the best affine map is the square itself
    // (the pull x·y is at right angles to 1, x and y over these corners) and each corner is left 2 m off.
    const square = [tie(0, 0, 2, 200), tie(200, 0, 198, 200), tie(200, 200, 202, 0), tie(0, 200, -2, 0)];
    const fit = fitted(square);
    for (const residual of fit.residualsM) expect(residual).toBeCloseTo(2, 4);
    expect(fit.rmsM).toBeCloseTo(2, 4);
  });

  it('agrees with the normal equations solved apart', () => {
    const points: [number, number, number, number][] = [
      [10, 20, 3, 140],
      [950, 60, 470, 118],
      [880, 700, 431, -207],
      [40, 760, 9, -229],
      [500, 400, 243, -52],
    ];
    const design = new Matrix(points.map(([x, y]) => [x, y, 1]));
    const transposed = design.transpose();
    const answer = solve(
      transposed.mmul(design),
      transposed.mmul(new Matrix(points.map(([, , east, north]) => [east, north]))),
    );
    const expected = new Matrix([[333, 222, 1]]).mmul(answer).getRow(0);
    const [east, north] = groundOf(fitted(points.map((p) => tie(...p))).toLonLat(333, 222));
    // The fit's plane is about its first tie, 140 m away: both planes agree to far below a millimetre.
    expect(east).toBeCloseTo(expected[0] as number, 3);
    expect(north).toBeCloseTo(expected[1] as number, 3);
  });

  it.each([
    ['too_few_ties', [tie(0, 0, 0, 0)]],
    ['ties_too_near', [tie(0, 0, 0, 0), tie(3, 3, 50, 0)]],
    ['ties_too_near', [tie(0, 0, 7, 7), tie(300, 3, 7, 7)]],
    ['ties_in_a_row', [tie(0, 0, 0, 0), tie(100, 0, 50, 0), tie(300, 1, 150, 80)]],
    ['not_a_number', [tie(0, 0, 0, 0), { xPx: Number.NaN, yPx: 0, lon: 14, lat: 45 }]],
  ])('is refused: %s', (code, ties) => {
    expect(fitPicture(ties)).toMatchObject({ ok: false, code });
  });
});

describe('a picture with a world file', () => {
  const utm = crsOf('EPSG:32633');
  if (!utm.ok) throw new Error(utm.sentence);

  it('has its corners half a pixel outside the centres of its outer pixels', () => {
    // By hand: 2 m pixels, 100 × 50 of them, centre of the first at (500001, 5000099): the picture spans
    // 500000 … 500200 and 5000000 … 5000100.
    const world = { xPerColumn: 2, yPerColumn: 0, xPerRow: 0, yPerRow: -2, xOfFirst: 500001, yOfFirst: 5000099 };
    const corners = cornersByWorld(world, utm.value, 100, 50);
    if (!corners.ok) throw new Error(corners.sentence);
    const toUtm = proj4('+proj=longlat +datum=WGS84', '+proj=utm +zone=33 +datum=WGS84');
    const found = corners.value.map(({ lon, lat }) => toUtm.forward([lon, lat]) as [number, number]);
    const expected = [
      [500000, 5000100],
      [500200, 5000100],
      [500200, 5000000],
      [500000, 5000000],
    ];
    found.forEach(([x, y], i) => {
      expect(x).toBeCloseTo(expected[i]?.[0] as number, 4);
      expect(y).toBeCloseTo(expected[i]?.[1] as number, 4);
    });
  });

  it('is refused where its system puts it off the map', () => {
    const degrees = crsOf('EPSG:4326');
    if (!degrees.ok) throw new Error(degrees.sentence);
    const world = { xPerColumn: 2, yPerColumn: 0, xPerRow: 0, yPerRow: -2, xOfFirst: 500001, yOfFirst: 5000099 };
    expect(cornersByWorld(world, degrees.value, 100, 50)).toMatchObject({ ok: false, code: 'off_the_earth' });
  });
});
