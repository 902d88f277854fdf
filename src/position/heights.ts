import type { Line } from '../survey/survey';

/** Heights of the ground along a line, by growing chainage; empty when fewer than two are known. */
export type Heights = readonly { readonly chainageM: number; readonly heightM: number }[];

/** Heights that would make the tape run steeper than 45° are errors of the heights, not a slope. */
const STEEPEST_SLOPE = Math.SQRT1_2;
const STEEPEST_LEG_DEG = 45;
/** Legs whose ends are this near follow one another. */
const FOLLOWS_M = 0.005;

/** The line's own profile, else the elevations of its controls; none when they cannot be walked. */
export function heightsAlong(
  line: Line,
  controls: readonly { readonly chainageM: number; readonly elevationM: number | null }[],
): Heights {
  const known =
    line.profile.length >= 2
      ? line.profile.map((point) => ({ chainageM: point.chainage_m, heightM: point.height_m }))
      : controls.flatMap(({ chainageM, elevationM }) =>
          elevationM === null ? [] : [{ chainageM, heightM: elevationM }],
        );
  const sorted = [...known].sort((p, q) => p.chainageM - q.chainageM);
  const distinct = sorted.filter((point, i) => i === 0 || point.chainageM > (sorted[i - 1]?.chainageM ?? 0));
  const walkable = distinct.every((point, i) => {
    const before = distinct[i - 1];
    return !before || Math.abs(point.heightM - before.heightM) <= STEEPEST_SLOPE * (point.chainageM - before.chainageM);
  });
  return distinct.length >= 2 && walkable ? distinct : [];
}

/**
 * Heights over the start of the legs, where each of them says its slope and they follow one another: a tape and a
 * clinometer know how the ground runs, not how high it lies.
 */
export function heightsOfLegs(line: Line): Heights {
  const legs = line.path
    .flatMap((item) => (item.kind === 'leg' && !item.retired ? [item] : []))
    .sort((p, q) => p.from_chainage_m - q.from_chainage_m);
  const [first] = legs;
  if (!first) return [];
  const heights = [{ chainageM: first.from_chainage_m, heightM: 0 }];
  for (const { from_chainage_m: fromM, distance_m: distanceM, slope_deg: slopeDeg } of legs) {
    const last = heights[heights.length - 1] as Heights[number];
    const follows = Math.abs(fromM - last.chainageM) <= FOLLOWS_M;
    if (typeof slopeDeg !== 'number' || Math.abs(slopeDeg) > STEEPEST_LEG_DEG || !follows) return [];
    const rise = distanceM * Math.sin((slopeDeg * Math.PI) / 180);
    heights.push({ chainageM: fromM + distanceM, heightM: last.heightM + rise });
  }
  return heights;
}

/** Height at a chainage, level beyond the ends: what distances between electrodes are taken with. */
export function heightAt(heights: Heights, chainageM: number): number {
  const first = heights[0];
  const last = heights[heights.length - 1];
  if (!first || !last || chainageM <= first.chainageM) return first?.heightM ?? 0;
  if (chainageM >= last.chainageM) return last.heightM;
  let i = 1;
  while (chainageM > (heights[i]?.chainageM ?? Infinity)) i += 1;
  const p = heights[i - 1] as Heights[number];
  const q = heights[i] as Heights[number];
  return p.heightM + ((chainageM - p.chainageM) / (q.chainageM - p.chainageM)) * (q.heightM - p.heightM);
}

/** Elevation at a chainage; null where no height is known on both sides. */
export function elevationAt(heights: Heights, chainageM: number): number | null {
  const first = heights[0];
  const last = heights[heights.length - 1];
  if (!first || !last || chainageM < first.chainageM || chainageM > last.chainageM) return null;
  return heightAt(heights, chainageM);
}

/** Slope chainage to horizontal chainage: an even slope between heights, level beyond them. */
export function horizontalChainage(heights: Heights): (chainageM: number) => number {
  const first = heights[0];
  if (!first) return (chainageM) => chainageM;
  const stretches: { fromM: number; toM: number; share: number; startM: number }[] = [
    { fromM: first.chainageM, toM: first.chainageM, share: 1, startM: first.chainageM },
  ];
  let run = first.chainageM;
  for (let i = 1; i < heights.length; i += 1) {
    const p = heights[i - 1] as Heights[number];
    const q = heights[i] as Heights[number];
    const slope = (q.heightM - p.heightM) / (q.chainageM - p.chainageM);
    const share = Math.sqrt(1 - slope * slope);
    stretches.push({ fromM: p.chainageM, toM: q.chainageM, share, startM: run });
    run += share * (q.chainageM - p.chainageM);
  }
  const end = heights[heights.length - 1] as Heights[number];
  stretches.push({ fromM: end.chainageM, toM: Infinity, share: 1, startM: run });
  return (chainageM) => {
    const stretch = stretches.find(({ toM }) => chainageM <= toM) as (typeof stretches)[number];
    return stretch.startM + stretch.share * (chainageM - stretch.fromM);
  };
}
