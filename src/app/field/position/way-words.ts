import type { RimsOnWay } from './rims-on-way';
import type { Way } from './way-to';

/** Metres as far as a satellite fix tells them: to the metre, near by to half a one, far off in kilometres. */
export function wayLengthWords(m: number): string {
  if (m < 10) return `${(Math.round(m * 2) / 2).toFixed(1)} m`;
  return m < 1000 ? `${Math.round(m)} m` : `${(m / 1000).toFixed(m < 10_000 ? 2 : 1)} km`;
}

const bearingWords = (deg: number): string => `${String(Math.round(deg) % 360).padStart(3, '0')}°`;

const POINTS = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'] as const;

/** "bearing 045° true (NE)". */
export const trueBearingWords = (deg: number): string =>
  `bearing ${bearingWords(deg)} true (${POINTS[Math.round(deg / 45) % 8]})`;

/** Against the way one goes: "ahead", "30° to the left". */
export function turnWords(turnDeg: number): string {
  const size = Math.abs(turnDeg);
  if (size <= 10) return 'ahead';
  if (size >= 170) return 'behind you';
  return `${Math.round(size / 5) * 5}° to the ${turnDeg < 0 ? 'left' : 'right'}`;
}

/** That the device can lead no nearer, with what does. */
export function nearWords({ r95M, uncertainty95M }: { r95M: number; uncertainty95M: number | null }): string {
  const own =
    uncertainty95M !== null && Number.isFinite(uncertainty95M) && uncertainty95M >= 0.5
      ? ` It is itself placed to ± ${wayLengthWords(uncertainty95M)} only.`
      : '';
  return `As near as the GPS can tell (± ${wayLengthWords(r95M)}). Find it by the tape from here.${own}`;
}

/** What to heed of rims: one sentence for the gravest. Null where none is known to be near. */
export function rimWords({ target, here, between }: RimsOnWay): string | null {
  if (here) return 'A known opening or rock face is near you. Keep off the rim and off soft ground.';
  if (target) return 'It lies near a known opening or rock face. Keep off the rim: go no nearer than safe ground.';
  if (between) return 'The straight way comes near a known opening or rock face. Go round it: keep off the rim.';
  return null;
}

/** A compass needle has no use without a way; the arrow points as on the map then. */
export const arrowDeg = ({ turnDeg, bearingDeg }: Way): number => turnDeg ?? bearingDeg;
