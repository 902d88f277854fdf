/** Numbers in 0…1, the same for the same seed (linear congruential, Numerical Recipes' constants, high bits taken twice). */
export function evenNumbers(seed: number): () => number {
  let state = Math.imul(seed, 2654435761) >>> 0;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state >>> 16;
  };
  return () => (next() * 65536 + next() + 0.5) / 4294967296;
}

/** Standard normal numbers (Box & Muller 1958), the same for the same seed. */
export function normalNumbers(seed: number): () => number {
  const even = evenNumbers(seed);
  return () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}
