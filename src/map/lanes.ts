import { ROOMY_LANES } from './lane-offset';

/**
 * Side by side: each spacing of a line gets a lane of its own, from the narrowest on the left of the line (as it was laid
 * out) to the widest on its right. Lanes lie evenly about the line, so a line read at one spacing stays on itself.
 */
export interface Laned {
  readonly line: string;
  readonly spacingM: number | null;
}

/** Lanes to the right of the line, by item: negative to its left; spacings that were not said are the rightmost. */
export function lanes(items: readonly Laned[]): number[] {
  const spacings = new Map<string, Set<number>>();
  for (const { line, spacingM } of items) {
    const known = spacings.get(line) ?? new Set<number>();
    known.add(spacingM ?? Number.POSITIVE_INFINITY);
    spacings.set(line, known);
  }
  const lane = new Map<string, Map<number, number>>();
  for (const [line, known] of spacings) {
    const sorted = [...known].sort((a, b) => a - b);
    const pitch = Math.min(1, (ROOMY_LANES - 1) / Math.max(1, sorted.length - 1));
    lane.set(line, new Map(sorted.map((spacing, i) => [spacing, pitch * (i - (sorted.length - 1) / 2)])));
  }
  return items.map(({ line, spacingM }) => lane.get(line)?.get(spacingM ?? Number.POSITIVE_INFINITY) ?? 0);
}
