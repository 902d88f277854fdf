/**
 * A stroke that is drawn beside its line opens a gap at a hairpin, so it is cut there: each leg is drawn by itself.
 * Corners of more than `SHARP_DEG` between their legs keep their mitre.
 */
export const SHARP_DEG = 40;

type Place = readonly number[];

/** Angle between the two legs that meet at `corner`, in degrees: 180 = straight on, 0 = straight back. */
export function cornerAngleDeg(before: Place, corner: Place, after: Place): number {
  const shrink = Math.cos(((corner[1] ?? 0) * Math.PI) / 180);
  const ax = ((before[0] ?? 0) - (corner[0] ?? 0)) * shrink;
  const ay = (before[1] ?? 0) - (corner[1] ?? 0);
  const bx = ((after[0] ?? 0) - (corner[0] ?? 0)) * shrink;
  const by = (after[1] ?? 0) - (corner[1] ?? 0);
  const across = Math.abs(ax * by - ay * bx);
  return (Math.atan2(across, ax * bx + ay * by) * 180) / Math.PI;
}

/** The same path in pieces that meet at its sharp corners. A path without any comes back as one piece. */
export function cutAtSharpCorners<P extends Place>(path: readonly P[]): P[][] {
  const legs: P[][] = [];
  let leg: P[] = [];
  path.forEach((place, i) => {
    leg.push(place);
    const before = path[i - 1];
    const after = path[i + 1];
    if (before && after && cornerAngleDeg(before, place, after) < SHARP_DEG) {
      legs.push(leg);
      leg = [place];
    }
  });
  legs.push(leg);
  return legs;
}
