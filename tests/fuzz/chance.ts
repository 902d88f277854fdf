/** Numbers from a seed, so that what was found is found again. */
export interface Chance {
  /** 0 to 1. */
  real(): number;
  /** A whole number from 0 up to below `count`; 0 where that is nothing. */
  below(count: number): number;
  of<T>(list: readonly T[]): T;
}

export function chanceFrom(seed: number): Chance {
  // Mixes the seed thoroughly at every step, so that neighbouring seeds have nothing in common (a Weyl sequence, mixed).
  let state = seed | 0;
  const real = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (count: number): number => (count < 1 ? 0 : Math.floor(real() * count));
  return { real, below, of: (list) => list[below(list.length)] as (typeof list)[number] };
}
