import type { Grade } from '../../findings';
import type { ReadingEntry } from './reading-index';

const RANK: Record<Grade, number> = { none: 0, slight: 1, clear: 2, strong: 3 };

/** Graded readings, findings before hints, the strongest first; `none` and ungraded ones are left out. */
export function strongestFirst(entries: readonly ReadingEntry[]): ReadingEntry[] {
  return entries
    .filter(({ finding }) => finding.grade !== null && finding.grade !== 'none')
    .sort((a, b) => weight(b) - weight(a));
}

function weight({ finding }: ReadingEntry): number {
  const ahead = finding.figureKind === 'two_probe' ? 0 : 1000;
  return ahead + RANK[finding.grade ?? 'none'] * 100 + Math.min(99, Math.abs(Math.log(finding.ratio ?? 1)) * 10);
}
