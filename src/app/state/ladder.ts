import type { ReadingEntry, ReadingIndex } from './reading-index';

/** All readings of one place: same line and hookup, midpoints within a decimetre, by growing spacing. */
export function ladderOf(index: ReadingIndex, { finding, line }: ReadingEntry): ReadingEntry[] {
  return index.entries
    .filter(
      (other) =>
        other.line.lineId === line.lineId &&
        other.finding.hookup === finding.hookup &&
        Math.abs(other.finding.chainageM - finding.chainageM) < 0.1,
    )
    .sort((a, b) => (a.finding.spacingM ?? 0) - (b.finding.spacingM ?? 0));
}
