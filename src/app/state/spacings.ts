import type { ReadingEntry } from './reading-index';

/** Spacings that were read anywhere, growing; `null` last where some reading does not say its own. */
export function spacingsOf(entries: readonly ReadingEntry[]): (number | null)[] {
  const known = new Set(entries.map(({ finding }) => finding.spacingM));
  return [...known].sort((a, b) => (a ?? Number.POSITIVE_INFINITY) - (b ?? Number.POSITIVE_INFINITY));
}
