import { electrodeSid } from '../../exchange/write/layer-collection';
import type { ElectrodeFinding, Findings, LineFindings, MidpointFinding } from '../../findings';
import { shownAs } from '../../survey/shown';
import type { Survey } from '../../survey/survey';

export interface ReadingEntry {
  readonly finding: MidpointFinding;
  readonly line: LineFindings;
  /** Its readings as the meter showed them. */
  readonly shown: readonly string[];
  /** Some doubt asks to look before it is relied on. */
  readonly doubted: boolean;
  /** The `sid` of its point in the `midpoints` layer. */
  readonly midpointSid: string;
}

export interface ElectrodeEntry {
  readonly sid: string;
  readonly electrode: ElectrodeFinding;
  readonly line: LineFindings;
}

/** From what the map says (the `sid` of a midpoint or an electrode) to what was found out. */
export interface ReadingIndex {
  readonly entries: readonly ReadingEntry[];
  readonly bySid: ReadonlyMap<string, ReadingEntry>;
  readonly electrodeBySid: ReadonlyMap<string, ElectrodeEntry>;
}

export function readingIndex(survey: Survey, findings: Findings): ReadingIndex {
  const readings = new Map(survey.readings.map((reading) => [reading.id, reading]));
  const doubted = new Set(findings.doubts.flatMap((doubt) => (doubt.severity === 'note' ? [] : doubt.readings)));
  const entries: ReadingEntry[] = [];
  const bySid = new Map<string, ReadingEntry>();
  const electrodeBySid = new Map<string, ElectrodeEntry>();
  for (const line of findings.lines) {
    for (const finding of line.midpoints) {
      const midpointSid = finding.key;
      const shown = finding.readings.flatMap((id) => {
        const reading = readings.get(id);
        return reading ? [shownAs(reading)] : [];
      });
      const entry = {
        finding,
        line,
        shown,
        doubted: finding.readings.some((id) => doubted.has(id)),
        midpointSid,
      };
      entries.push(entry);
      bySid.set(midpointSid, entry);
    }
    for (const electrode of line.electrodes) {
      const sid = electrodeSid(line, electrode);
      electrodeBySid.set(sid, { sid, electrode, line });
    }
  }
  return { entries, bySid, electrodeBySid };
}
