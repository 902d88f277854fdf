/** Where rods stand and which contact each has there: a seating ends when its rod is pulled or driven again. */
export interface Seated {
  /** Chainages, growing. */
  readonly rodsM: readonly number[];
  readonly seatings: readonly (string | null)[];
}

const SAME_PLACE_M = 0.001;

/**
 * The seatings of rods at these chainages (growing). At the same spot again every rod keeps its seating but those that
 * were driven again (`reDriven`: their numbers, from 1). Elsewhere all are new contacts; only where rods are said to stay
 * in the ground (`leapfrog`) does one that stood there already keep its own.
 */
export function seatingsFor(
  rodsM: readonly number[],
  before: Seated | null,
  { reDriven, leapfrog }: { readonly reDriven: ReadonlySet<number>; readonly leapfrog: boolean },
  fresh: (ordinal: number) => string,
): readonly string[] {
  const stoodAt = (rodM: number): number =>
    before ? before.rodsM.findIndex((other) => Math.abs(other - rodM) < SAME_PLACE_M) : -1;
  const sameSpot = before?.rodsM.length === rodsM.length && rodsM.every((rodM) => stoodAt(rodM) >= 0);
  let made = 0;
  return rodsM.map((rodM, i) => {
    const stood = sameSpot || leapfrog ? stoodAt(rodM) : -1;
    const kept = stood < 0 || reDriven.has(i + 1) ? null : (before?.seatings[stood] ?? null);
    if (kept !== null) return kept;
    made += 1;
    return fresh(made);
  });
}

/** The number that the next seating of an outing gets: one more than the highest so far ("2026-05-12 #17" has 17). */
export function nextSeatingNumber(outingName: string, seatings: readonly (string | null)[]): number {
  const mark = `${outingName} #`;
  const numbers = seatings.flatMap((seating) =>
    seating?.startsWith(mark) ? [Number.parseInt(seating.slice(mark.length), 10)] : [],
  );
  return Math.max(0, ...numbers.filter(Number.isFinite)) + 1;
}

export const seatingName = (outingName: string, number: number): string => `${outingName} #${number}`;
