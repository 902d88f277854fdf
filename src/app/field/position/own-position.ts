/** Where the device says it is. */
export interface OwnFix {
  readonly lon: number;
  readonly lat: number;
  /** Radius that holds the place with 95 % (W3C Geolocation, `accuracy`), metres. */
  readonly r95M: number;
  /** Clockwise from true north, the way it moves; null while it stands. */
  readonly headingDeg: number | null;
  /** When it was made, by a clock that nobody sets. */
  readonly timeMs: number;
}

export type OwnPosition =
  | { readonly kind: 'off' }
  /** `trouble`: why nothing has come so far. */
  | { readonly kind: 'asking'; readonly trouble: string | null }
  | { readonly kind: 'seen'; readonly fix: OwnFix }
  | { readonly kind: 'refused'; readonly sentence: string };

/** A fix is called old after this long without another: a walker is 10 m farther by then (choice). */
const OLD_AFTER_MS = 10_000;
/** Slower than this a heading is only the wander of the fixes (choice). */
const WALKING_M_PER_S = 0.5;

/** Whole seconds since a fix that is too old to be believed; null for one that is not. */
export function oldForS({ timeMs }: OwnFix, nowMs: number): number | null {
  const ageMs = nowMs - timeMs;
  return ageMs > OLD_AFTER_MS ? Math.floor(ageMs / 1000) : null;
}

/** A fix as the browser gives it, with when it was made; null where it is no place. */
export function ownFixOf({ coords }: GeolocationPosition, timeMs: number): OwnFix | null {
  const { longitude: lon, latitude: lat, accuracy: r95M, heading, speed } = coords;
  if (!Number.isFinite(lon) || !Number.isFinite(lat) || !(r95M > 0)) return null;
  const moves = speed === null || !Number.isFinite(speed) || speed >= WALKING_M_PER_S;
  const headingDeg = moves && heading !== null && Number.isFinite(heading) ? ((heading % 360) + 360) % 360 : null;
  return { lon, lat, r95M, headingDeg, timeMs };
}
