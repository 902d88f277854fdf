import { logDomain, type Range } from './axis';

/** Classes of resistivity: one more than there are limits, each with its colour, low to high. */
export interface ResistivityClasses {
  readonly limitsOhmM: readonly number[];
  readonly colours: readonly string[];
}

/** Leading digits of the limits, coarse to fine. */
const FAMILIES = [
  [1],
  [1, 3],
  [1, 2, 5],
  [1, 1.5, 2, 3, 5, 7],
  [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 4, 5, 6, 7, 8.5],
] as const;
/** Less difference than this is not drawn as if it were much (choice). */
const LEAST_FACTOR = 2;

/** Classes with round limits that part the values (above 0) on a logarithmic scale, as finely as there are colours. */
export function resistivityClasses(valuesOhmM: readonly number[], colours: readonly string[]): ResistivityClasses {
  const range = logDomain(valuesOhmM, LEAST_FACTOR, 0);
  const most = colours.length - 1;
  const families = FAMILIES.map((digits) => within(range, digits)).filter((limits) => limits.length <= most);
  const limits = families.at(-1) ?? thinned(within(range, FAMILIES[0]), most);
  return { limitsOhmM: limits, colours: spread(colours, limits.length + 1) };
}

/** The class of a value: its place among the colours. */
export const classOf = (valueOhmM: number, { limitsOhmM }: ResistivityClasses): number =>
  limitsOhmM.filter((limit) => valueOhmM >= limit).length;

function within([from, to]: Range, digits: readonly number[]): number[] {
  const limits: number[] = [];
  for (let decade = Math.floor(Math.log10(from)); decade <= Math.ceil(Math.log10(to)); decade += 1) {
    for (const digit of digits) {
      const limit = Number((digit * 10 ** decade).toPrecision(6));
      if (limit > from && limit < to) limits.push(limit);
    }
  }
  return limits;
}

const thinned = (limits: readonly number[], most: number): number[] => {
  const every = Math.ceil(limits.length / most);
  return limits.filter((_, i) => i % every === 0);
};

/** So many of the colours, from the first to the last. */
const spread = (colours: readonly string[], count: number): string[] =>
  Array.from(
    { length: count },
    (_, i) =>
      colours[count === 1 ? colours.length >> 1 : Math.round((i * (colours.length - 1)) / (count - 1))] as string,
  );
