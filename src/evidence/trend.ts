import type { LineFindings, Range95 } from '../findings';
import { localPlane } from '../position/crs';
import { groundPlaceAt } from './ground-place';

/** Where something crosses a line, with how far it may lie from there. */
export interface Crossing {
  readonly line: Pick<LineFindings, 'track'>;
  readonly chainageM: Range95;
}

/** Fewer lines than this agree on nothing. */
const FEWEST_LINES = 3;
/** Normal deviates of a two-sided 95 %. */
const Z_95 = 1.959964;
/** 95 % of χ² with 1, 2, 3 … degrees of freedom (table of the distribution, Abramowitz & Stegun 1964, table 26.8). */
const CHI_SQUARE_95 = [3.841, 5.991, 7.815, 9.488, 11.07, 12.592, 14.067, 15.507] as const;
const RADIANS = Math.PI / 180;

/**
 * The direction in which three or more crossings lie in one row: degrees from north, 0 to 180, with its 95 % range by
 * least squares of the distances across (weights from each crossing's own range). Null where there are too few lines,
 * where they do not lie in a row within their ranges (χ²), or where the direction is open to more than a right angle.
 */
export function trendOf(crossings: readonly Crossing[]): Range95 | null {
  if (crossings.length < FEWEST_LINES) return null;
  const [first] = crossings.map(({ line, chainageM }) => groundPlaceAt(line.track, middleOf(chainageM)));
  if (!first) return null;
  const plane = localPlane(first.lon, first.lat);
  const points = crossings.map(({ line, chainageM }) => {
    const place = groundPlaceAt(line.track, middleOf(chainageM));
    const [xM, yM] = plane.toPlane(place.lon, place.lat);
    return { xM, yM, sigmaM: Math.max(0.05, (chainageM.high95 - chainageM.low95) / (2 * Z_95)) };
  });
  const weight = points.reduce((sum, { sigmaM }) => sum + sigmaM ** -2, 0);
  const mean = (of: (point: (typeof points)[number]) => number): number =>
    points.reduce((sum, point) => sum + of(point) / point.sigmaM ** 2, 0) / weight;
  const [cx, cy] = [mean(({ xM }) => xM), mean(({ yM }) => yM)];
  const sxx = mean(({ xM }) => (xM - cx) ** 2);
  const syy = mean(({ yM }) => (yM - cy) ** 2);
  const sxy = mean(({ xM, yM }) => (xM - cx) * (yM - cy));
  // Direction of the longer axis of the weighted scatter, anticlockwise from east.
  const angle = 0.5 * Math.atan2(2 * sxy, sxx - syy);
  const across = points.map(
    ({ xM, yM, sigmaM }) => ((yM - cy) * Math.cos(angle) - (xM - cx) * Math.sin(angle)) / sigmaM,
  );
  const chiSquare = across.reduce((sum, value) => sum + value ** 2, 0);
  const limit = CHI_SQUARE_95[points.length - FEWEST_LINES] ?? 2 * points.length;
  if (chiSquare > limit) return null;
  const spread =
    weight * (sxx * Math.cos(angle) ** 2 + syy * Math.sin(angle) ** 2 + 2 * sxy * Math.sin(angle) * Math.cos(angle));
  const half = Z_95 / Math.sqrt(spread) / RADIANS;
  if (!(half < 45)) return null;
  const best = (((90 - angle / RADIANS) % 180) + 180) % 180;
  return { best, low95: best - half, high95: best + half };
}

const middleOf = ({ best, low95, high95 }: Range95): number => best ?? (low95 + high95) / 2;
