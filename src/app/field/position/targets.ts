import { groundPlaceAt } from '../../../evidence/ground-place';
import type { ElectrodeFinding, Findings, LineFindings, NextReading } from '../../../findings';
import { metres } from '../../../survey/wording';
import { placeOfZone } from '../../state/zone-place';
import type { Target } from './way-to';

/** A chainage of a line; null for a line that has no place yet. */
export function stakeTarget(line: LineFindings | undefined, chainageM: number): Target | null {
  if (!line || line.track.length < 2) return null;
  return {
    label: `Line ${line.name} at ${metres(chainageM)}`,
    ...groundPlaceAt(line.track, chainageM),
    uncertainty95M: uncertaintyAt(line, chainageM),
  };
}

/** As sure as the nearest electrode, or where there is none the nearest placed point. */
function uncertaintyAt({ electrodes, controls }: LineFindings, chainageM: number): number | null {
  let nearest: { readonly apartM: number; readonly uncertainty95M: number } | null = null;
  for (const { chainageM: at, uncertainty95M } of electrodes.some((each) => each.chainageM !== null)
    ? electrodes
    : controls) {
    const apartM = at === null ? Infinity : Math.abs(at - chainageM);
    if (apartM < (nearest?.apartM ?? Infinity)) nearest = { apartM, uncertainty95M };
  }
  return nearest?.uncertainty95M ?? null;
}

export function electrodeTarget(
  { chainageM, remoteRole, lon, lat, uncertainty95M }: ElectrodeFinding,
  lineName: string,
): Target {
  const label =
    chainageM === null
      ? `Remote ${remoteRole?.toUpperCase() ?? ''}`.trim()
      : `Line ${lineName} at ${metres(chainageM)}`;
  return { label, lon, lat, uncertainty95M };
}

/** Where a proposed reading has its midpoint. */
export function nextTarget(findings: Findings, next: NextReading): Target {
  const line = findings.lines.find(({ lineId }) => lineId === next.lineId);
  const rank = findings.nextReadings.indexOf(next) + 1;
  return {
    label: `Next reading ${rank}${line ? `, line ${line.name} at ${metres(next.chainageM)}` : ''}`,
    lon: next.lon,
    lat: next.lat,
    uncertainty95M: line ? uncertaintyAt(line, next.chainageM) : null,
  };
}

/** The middle of the first piece of a zone. */
export function zoneTarget(findings: Findings, key: string): Target | null {
  const zone = findings.zones.find((each) => each.key === key);
  const place = zone ? placeOfZone(findings, key) : null;
  return zone && place ? { label: zone.name, ...place, uncertainty95M: null } : null;
}
