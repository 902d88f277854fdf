/** Directions of long axes against an even spread. */
export interface AxesTest {
  readonly count: number;
  /** Mean axis, degrees from true north, 0 to 180; null where the axes cancel out. */
  readonly meanDeg: number | null;
  /** 0 = spread evenly, 1 = all alike, of the doubled angles. */
  readonly resultant: number;
  /** n R̄² of the doubled angles. */
  readonly rayleighZ: number;
  /** Chance of such a concentration when all directions are alike. */
  readonly p: number;
  /** Count of axes by direction in equal classes from north, each [from, to) in degrees. */
  readonly rose: readonly { readonly fromDeg: number; readonly toDeg: number; readonly count: number }[];
}

/**
 * Rayleigh's test of axes, on doubled angles (Mardia & Jupp 2000, 6.3.1; doubling 1.1): z = n R̄², and the chance
 * p = exp(√(1 + 4n + 4(n² − (nR̄)²)) − (1 + 2n)) (Zar 1999, eq. 27.4; good to three places for n ≥ 10).
 * It sees one preferred direction; two at right angles cancel. Null without axes.
 * @param axesDeg degrees clockwise from true north; 10 and 190 are one axis
 */
export function testAxes(axesDeg: readonly number[], classes = 18): AxesTest | null {
  const n = axesDeg.length;
  if (n === 0) return null;
  let [east, north] = [0, 0];
  const counts = Array.from({ length: classes }, () => 0);
  const widthDeg = 180 / classes;
  for (const axis of axesDeg) {
    const doubled = (2 * axis * Math.PI) / 180;
    east += Math.sin(doubled);
    north += Math.cos(doubled);
    const at = Math.min(classes - 1, Math.floor((((axis % 180) + 180) % 180) / widthDeg));
    counts[at] = (counts[at] as number) + 1;
  }
  const length = Math.hypot(east, north);
  const resultant = length / n;
  const mean = (Math.atan2(east, north) * 90) / Math.PI;
  return {
    count: n,
    meanDeg: resultant < 1e-12 ? null : (mean + 180) % 180,
    resultant,
    rayleighZ: n * resultant * resultant,
    p: Math.min(1, Math.exp(Math.sqrt(1 + 4 * n + 4 * (n * n - length * length)) - (1 + 2 * n))),
    rose: counts.map((count, i) => ({ fromDeg: i * widthDeg, toDeg: (i + 1) * widthDeg, count })),
  };
}
