import type { Layers } from '../../exchange/write/layer-collection';
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
  /** The `sid`s of its strokes in the `segments` layer: two on its probes, more where it crosses 180°. */
  readonly segmentSids: readonly string[];
}

export interface ElectrodeEntry {
  readonly sid: string;
  readonly electrode: ElectrodeFinding;
  readonly line: LineFindings;
}

/** From what the map says (a `sid`) to what was found out, and back. */
export interface ReadingIndex {
  readonly entries: readonly ReadingEntry[];
  readonly bySid: ReadonlyMap<string, ReadingEntry>;
  readonly electrodeBySid: ReadonlyMap<string, ElectrodeEntry>;
}

/** A stroke's `sid` is its reading's, then how it is laid, then its part. */
const STROKE = /:(?:midpoint|probes):\d+$/;

export function readingIndex(survey: Survey, findings: Findings, layers: Layers): ReadingIndex {
  const readings = new Map(survey.readings.map((reading) => [reading.id, reading]));
  const doubted = new Set(findings.doubts.flatMap((doubt) => (doubt.severity === 'note' ? [] : doubt.readings)));
  const strokes = new Map<string, string[]>();
  for (const { properties } of layers.segments.features) {
    const sid = String(properties?.sid);
    const reading = sid.replace(STROKE, '');
    const known = strokes.get(reading);
    if (known) known.push(sid);
    else strokes.set(reading, [sid]);
  }
  const entries: ReadingEntry[] = [];
  const bySid = new Map<string, ReadingEntry>();
  const electrodeBySid = new Map<string, ElectrodeEntry>();
  let electrodes = 0;
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
        segmentSids: strokes.get(midpointSid) ?? [],
      };
      entries.push(entry);
      for (const sid of [midpointSid, ...entry.segmentSids]) bySid.set(sid, entry);
    }
    for (const electrode of line.electrodes) {
      // The layer has them in the same order.
      const sid = String(layers.electrodes.features[electrodes]?.properties?.sid);
      electrodes += 1;
      electrodeBySid.set(sid, { sid, electrode, line });
    }
  }
  return { entries, bySid, electrodeBySid };
}
