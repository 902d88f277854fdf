import type { Findings, MidpointFinding } from '../../findings';
import type { Doubt } from '../../survey/doubt';
import type { LineId } from '../../survey/ids';
import type { ReadingEntry, ReadingIndex } from './reading-index';

const ORDER: Record<Doubt['severity'], number> = { serious: 0, warning: 1, note: 2 };

/** Doubts that touch a reading, the most serious first, then those of its whole line. */
export function doubtsOfReading(findings: Findings, finding: MidpointFinding, lineId: LineId): Doubt[] {
  const own = new Set<string>(finding.readings);
  return bySeverity(
    findings.doubts.filter((doubt) =>
      doubt.readings.length > 0 ? doubt.readings.some((id) => own.has(id)) : doubt.line === lineId,
    ),
  );
}

export function bySeverity(doubts: readonly Doubt[]): Doubt[] {
  return [...doubts].sort((a, b) => ORDER[a.severity] - ORDER[b.severity]);
}

/** The reading that a doubt is best looked at by; null when it is about a line or the whole survey. */
export function causeOf(doubt: Doubt, index: ReadingIndex): ReadingEntry | null {
  const touched = new Set<string>(doubt.readings);
  return index.entries.find(({ finding }) => finding.readings.some((id) => touched.has(id))) ?? null;
}
