/** One line of the table that `npm run bench` prints. */
export interface BenchRow {
  readonly what: string;
  readonly measured: string;
  /** What it has to keep to; null = told for what it is. */
  readonly bar: string | null;
  readonly missed: boolean;
}

/** A part of the bench that can be run alone. */
export interface BenchPart {
  readonly name: string;
  run(quick: boolean): Promise<readonly BenchRow[]>;
}

export const row = (what: string, measured: string): BenchRow => ({ what, measured, bar: null, missed: false });

/** A row with a bar: the value may be as large as `most` and not larger; NaN misses. */
export const atMost = (what: string, value: number, most: number, words: (value: number) => string): BenchRow => ({
  what,
  measured: words(value),
  bar: `≤ ${words(most)}`,
  missed: !(value <= most),
});

/** The same from below. */
export const atLeast = (what: string, value: number, least: number, words: (value: number) => string): BenchRow => ({
  what,
  measured: words(value),
  bar: `≥ ${words(least)}`,
  missed: !(value >= least),
});

export const ms = (value: number): string => `${value.toFixed(value < 10 ? 1 : 0)} ms`;
export const seconds = (value: number): string => `${value.toFixed(1)} s`;
export const times = (value: number): string => `× ${value.toFixed(2)}`;
export const exponent = (value: number): string => `n^${value.toFixed(2)}`;
export const percent = (value: number): string => `${(100 * value).toFixed(1)} %`;
export const megabytes = (value: number): string => `${value.toFixed(0)} MB`;

/** Milliseconds of the quickest of some rounds: what else the machine does is no part of the work. */
export function quickest(rounds: number, work: () => unknown): number {
  let least = Infinity;
  for (let round = 0; round < rounds; round += 1) {
    const start = performance.now();
    work();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

/** The exponent that a time grows with from one size to another. */
export const growth = (small: number, smallMs: number, large: number, largeMs: number): number =>
  Math.log(largeMs / smallMs) / Math.log(large / small);
