import type { Findings, LineFindings } from '../../findings';
import type { ReadingEntry } from './reading-index';

/** Spacings that were read anywhere, growing; `null` last where some reading does not say its own. */
export function spacingsOf(entries: readonly ReadingEntry[]): (number | null)[] {
  return growing(new Set(entries.map(({ finding }) => finding.spacingM)));
}

const ofLine = new WeakMap<LineFindings, ReadonlySet<number | null>>();

/** The same from findings alone. A line that has not changed is not looked through again: it is asked at every edit. */
export function spacingsIn({ lines }: Findings): (number | null)[] {
  const all = new Set<number | null>();
  for (const line of lines) {
    const own = ofLine.get(line) ?? new Set(line.midpoints.map(({ spacingM }) => spacingM));
    ofLine.set(line, own);
    for (const spacing of own) all.add(spacing);
  }
  return growing(all);
}

const growing = (spacings: ReadonlySet<number | null>): (number | null)[] =>
  [...spacings].sort((a, b) => (a ?? Number.POSITIVE_INFINITY) - (b ?? Number.POSITIVE_INFINITY));
