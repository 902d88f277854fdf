/** From a value to its place in px. */
export type Scale = (value: number) => number;

/** Smallest and largest value, or where they lie in px. */
export type Range = readonly [number, number];

/** Even steps of the value are even steps on paper. */
export function linearScale([from, to]: Range, [startPx, endPx]: Range): Scale {
  return (value) => startPx + ((value - from) / (to - from)) * (endPx - startPx);
}

/** Even ratios of the value (above 0) are even steps on paper. */
export function logScale([from, to]: Range, range: Range): Scale {
  const place = linearScale([Math.log(from), Math.log(to)], range);
  return (value) => place(Math.log(value));
}

/** Rounded so that 3 × 0.1 is 0.3. */
const clean = (value: number): number => Number(value.toPrecision(12));

/** Round numbers (steps of 1, 2 or 5 times a power of ten) within a range, `most` at the most and 2 at the least. */
export function linearTicks([from, to]: Range, most: number): number[] {
  const span = to - from;
  if (!(span > 0)) return [from];
  const raw = span / Math.max(1, most);
  const power = 10 ** Math.floor(Math.log10(raw));
  for (const step of [1, 2, 5, 10, 20].map((factor) => factor * power)) {
    const first = Math.ceil(from / step - 1e-9);
    const last = Math.floor(to / step + 1e-9);
    if (last - first + 1 > most) continue;
    return Array.from({ length: last - first + 1 }, (_, i) => clean((first + i) * step));
  }
  return [from, to];
}

/** The given leading digits of every decade, within a range. */
function decadeTicks([from, to]: Range, digits: readonly number[]): number[] {
  const ticks: number[] = [];
  for (let decade = Math.floor(Math.log10(from)); decade <= Math.ceil(Math.log10(to)); decade += 1) {
    for (const digit of digits) {
      const tick = clean(digit * 10 ** decade);
      if (tick >= from * (1 - 1e-9) && tick <= to * (1 + 1e-9)) ticks.push(tick);
    }
  }
  return ticks;
}

/**
 * Ticks of a logarithmic axis: 1-2-5 in every decade; powers of ten alone where those would be more than `most`;
 * finer ones, and at last even steps, where the axis is so short that less than three would be left.
 */
export function logTicks(range: Range, most: number): number[] {
  const usual = decadeTicks(range, [1, 2, 5]);
  if (usual.length > most) {
    const powers = decadeTicks(range, [1]);
    const every = Math.ceil(powers.length / Math.max(1, most));
    return powers.filter((_, i) => i % every === 0);
  }
  if (usual.length >= 3) return usual;
  const finer = decadeTicks(range, [1, 1.5, 2, 3, 5, 7]);
  return finer.length >= 4 && finer.length <= most ? finer : linearTicks(range, most);
}

/** The range that holds all values (above 0), a share of its length free at either end, at least `leastFactor` from end to end. */
export function logDomain(values: readonly number[], leastFactor: number, padding = 0.06): Range {
  const logs = values.filter((value) => value > 0 && Number.isFinite(value)).map(Math.log);
  if (logs.length === 0) return [1, Math.max(leastFactor, 2)];
  const low = logs.reduce((least, value) => Math.min(least, value));
  const high = logs.reduce((most, value) => Math.max(most, value));
  const lacking = Math.max(0, Math.log(leastFactor) - (high - low)) / 2;
  const free = (high - low + 2 * lacking) * padding;
  return [Math.exp(low - lacking - free), Math.exp(high + lacking + free)];
}
