import { groundPlaceAt } from '../../evidence/ground-place';
import type { Findings } from '../../findings';

/** The middle of the first piece of a zone; null where there is no such zone any more. */
export function placeOfZone(findings: Findings, key: string): { lon: number; lat: number } | null {
  const piece = findings.zones.find((zone) => zone.key === key)?.footprint[0];
  const line = findings.lines.find(({ lineId }) => lineId === piece?.lineId);
  return piece && line ? groundPlaceAt(line.track, (piece.fromM + piece.toM) / 2) : null;
}
