import { radius95M, sigmaOfRadius95 } from '../../position/accuracy';
import { type AveragedFix, averageFixes, isFresh } from '../../position/fix-quality';
import type { Fix, Position } from '../../survey/survey';
import { wallTime } from '../../wall-clock';

/** What a browser says of where the device is. */
export interface DeviceFix {
  readonly lon: number;
  readonly lat: number;
  /** Radius that holds the place with 95 % (W3C Geolocation, `accuracy`), metres. */
  readonly accuracyM: number;
  readonly altitudeM: number | null;
  readonly timeMs: number;
}

/** A fix with when it came, by a clock that nobody sets. */
export interface ArrivedFix extends DeviceFix {
  readonly cameMs: number;
}

/**
 * The fixes that were made after a tap at `tapMs`, by the clock of `cameMs`; `deviceAheadMs`: by how much the device's own
 * clock is ahead of that. The times of fixes come from the satellites or from the device's clock, which may be wrong by a
 * year and may jump: so fixes are judged by each other, the promptest of them having just been made when it came. One
 * alone may be from before, and only the device's clock can tell.
 */
export function fixesSince(fixes: readonly ArrivedFix[], tapMs: number, deviceAheadMs: number): readonly DeviceFix[] {
  const aheadMs = fixes.reduce((most, { timeMs, cameMs }) => Math.max(most, timeMs - cameMs), -Infinity);
  const fresh = freshFixes(fixes, tapMs + aheadMs);
  return fresh.length > 1 ? fresh : freshFixes(fixes, tapMs + Math.max(aheadMs, deviceAheadMs));
}

/** The fixes that were made after the tap: a device tells first where it was before. Twice the same fix counts once. */
export function freshFixes(fixes: readonly DeviceFix[], tapTimeMs: number): readonly DeviceFix[] {
  const fresh = fixes.filter(({ timeMs, accuracyM }) => isFresh(timeMs, tapTimeMs) && accuracyM > 0);
  return fresh.filter(({ timeMs }, i) => fresh.findIndex((other) => other.timeMs === timeMs) === i);
}

/** The mean of fresh fixes, how many they are and how far they scatter; null without any. */
export const averageOf = (fixes: readonly DeviceFix[]): AveragedFix | null =>
  averageFixes(fixes.map(({ lon, lat, accuracyM }) => ({ lon, lat, sigmaM: sigmaOfRadius95(accuracyM) })));

/** The average of fresh fixes as a placed point, its single fixes under it; null without any. */
export function averagedPlace(fixes: readonly DeviceFix[]): Pick<Fix, 'position' | 'singles'> | null {
  const average = averageOf(fixes);
  const last = fixes[fixes.length - 1];
  if (!average || !last) return null;
  const heights = fixes.flatMap(({ altitudeM }) => (altitudeM === null ? [] : [altitudeM]));
  const height = heights.reduce((sum, each) => sum + each, 0) / heights.length;
  const position = positionOf({
    lon: average.lon,
    lat: average.lat,
    accuracyM: radius95M(average.sigmaM),
    altitudeM: heights.length > 0 ? height : null,
    timeMs: last.timeMs,
  });
  return { position, ...(fixes.length > 1 ? { singles: fixes.map(positionOf) } : {}) };
}

function positionOf({ lon, lat, accuracyM, altitudeM, timeMs }: DeviceFix): Position {
  return {
    x: degrees(lon),
    y: degrees(lat),
    crs: 'EPSG:4326',
    accuracy_m: Number(accuracyM.toFixed(2)),
    accuracy_level: 95,
    source: 'phone',
    time: wallTime(new Date(timeMs)),
    // The W3C's altitude is over the ellipsoid; devices do not all keep to it.
    ...(altitudeM === null ? {} : { elevation_m: Number(altitudeM.toFixed(1)), height_reference: 'unknown' as const }),
  };
}

/** To a millimetre: more digits say nothing. */
const degrees = (value: number): number => Number(value.toFixed(8));
