import { akaike, CONSIDERABLY_LESS_SUPPORT } from './information-criterion';

/** A two-probe reading as it stands on its line. */
export interface FollowedReading {
  readonly spacingM: number;
  /** What was read, above 0: R in ohms or any multiple of it that only depends on the spacing. */
  readonly figure: number;
  readonly midpointM: number;
  /** Chainages of the two rods. */
  readonly probesM: readonly [number, number];
  /** Seatings of the two rods; a re-driven rod is a new one. Null = not named: a seating of its own. */
  readonly seatings: readonly [string | null, string | null];
  /** Standard error as a share; null = not known, to be estimated from all. */
  readonly relativeSigma: number | null;
}

export type FollowsVerdict = 'none' | 'probe' | 'midpoint' | 'cannot_tell';

export interface Follows {
  readonly verdict: FollowsVerdict;
  /**
   * Of a probe: `seating` when the change goes with one driving of the rod and not with its place (contact: drive it anew),
   * `site` when it stays with the place through other seatings (ground about the probe), `either` when these are the same
   * readings.
   */
  readonly cause: 'seating' | 'site' | 'either' | null;
  /** Chainage of the probe or midpoint; null for `none` and `cannot_tell`. */
  readonly chainageM: number | null;
  readonly seating: string | null;
  /** What it multiplies the readings by; null likewise. */
  readonly ratio: number | null;
  /** Criterion of the best of each kind; only differences count; Infinity where there was none to try. */
  readonly criteria: {
    readonly none: number;
    readonly seating: number;
    readonly site: number;
    readonly midpoint: number;
  };
}

interface Candidate {
  readonly criterion: number;
  readonly chainageM: number;
  readonly seating: string | null;
  readonly change: number;
}

/** Chainages closer than this are one place: half a centimetre. */
const placeOf = (chainageM: number): number => Math.round(chainageM * 100);

/**
 * Whether the strongest change along a two-probe line goes with one rod (its contact, or the ground about it) or with
 * what lies under one midpoint.
 * Each is a model of ln(figure): a level for every spacing, and one shift shared by all readings with that seating, that
 * probe site or that midpoint. The best of each kind is compared by Akaike's criterion, its place counted as a parameter
 * and 2 ln J added for the J places tried (after Chen & Chen 2008, Biometrika 95:759). A difference of 4 decides (Burnham &
 * Anderson 2002, §2.6); below it, it cannot be told, as always when both are the same readings.
 */
export function followsWhat(readings: readonly FollowedReading[]): Follows {
  const sigmaKnown = readings.every(({ relativeSigma }) => relativeSigma !== null && relativeSigma > 0);
  const line = leveled(readings, sigmaKnown);
  const measure = (sumOfSquares: number, parameters: number) =>
    akaike({ sumOfSquares, observations: readings.length, parameters, sigmaKnown });
  const none = measure(line.sumOfSquares, line.levels);

  const bestOf = (sets: ReadonlyMap<string, Place>): Candidate | null => {
    const many = 2 * Math.log(Math.max(1, sets.size));
    let best: Candidate | null = null;
    for (const { chainageM, seating, members } of sets.values()) {
      const shift = line.shiftOf(members);
      if (!shift) continue;
      const criterion = measure(Math.max(0, line.sumOfSquares - shift.won), line.levels + 2) + many;
      if (!best || criterion < best.criterion) {
        best = { criterion, chainageM, seating, change: shift.change };
      }
    }
    return best;
  };
  const seating = bestOf(seatingsOf(readings));
  const site = bestOf(sitesOf(readings));
  const midpoint = bestOf(midpointsOf(readings));
  const criteria = {
    none,
    seating: seating?.criterion ?? Infinity,
    site: site?.criterion ?? Infinity,
    midpoint: midpoint?.criterion ?? Infinity,
  };
  const probe = !seating || (site && site.criterion <= seating.criterion) ? site : seating;
  const best = !probe || (midpoint && midpoint.criterion < probe.criterion) ? midpoint : probe;
  const other = best === midpoint ? probe : midpoint;
  const nothing = { cause: null, chainageM: null, seating: null, ratio: null, criteria };
  if (!best || best.criterion === Infinity) return { verdict: 'cannot_tell', ...nothing };
  if (best.criterion > none - CONSIDERABLY_LESS_SUPPORT) return { verdict: 'none', ...nothing };
  if (other && other.criterion - best.criterion < CONSIDERABLY_LESS_SUPPORT)
    return { verdict: 'cannot_tell', ...nothing };
  const found = { chainageM: best.chainageM, ratio: Math.exp(best.change), criteria };
  if (best === midpoint) return { verdict: 'midpoint', cause: null, seating: null, ...found };
  const apart = criteria.seating - criteria.site;
  const cause = Math.abs(apart) < CONSIDERABLY_LESS_SUPPORT ? 'either' : apart < 0 ? 'seating' : 'site';
  return { verdict: 'probe', cause, seating: cause === 'site' ? null : (seating?.seating ?? null), ...found };
}

/** ln(figure) less its spacing's mean, over σ where known. */
function leveled(readings: readonly FollowedReading[], sigmaKnown: boolean) {
  const weights = readings.map(({ relativeSigma }) => (sigmaKnown ? 1 / (relativeSigma as number) ** 2 : 1));
  const bySpacing = new Map<number, number[]>();
  for (const [k, { spacingM }] of readings.entries()) {
    const key = placeOf(spacingM);
    const members = bySpacing.get(key);
    if (members) members.push(k);
    else bySpacing.set(key, [k]);
  }
  const logs = readings.map(({ figure }) => Math.log(figure));
  const rest = new Float64Array(readings.length);
  const levelWeight = new Float64Array(readings.length);
  let sumOfSquares = 0;
  for (const members of bySpacing.values()) {
    let weight = 0;
    let sum = 0;
    for (const k of members) {
      weight += weights[k] as number;
      sum += (weights[k] as number) * (logs[k] as number);
    }
    for (const k of members) {
      rest[k] = (logs[k] as number) - sum / weight;
      levelWeight[k] = weight;
      sumOfSquares += (weights[k] as number) * (rest[k] as number) ** 2;
    }
  }
  return {
    sumOfSquares,
    levels: bySpacing.size,
    /** Best shift of some readings beside the levels, and by how much it lowers the sum; null where levels take it all. */
    shiftOf(members: readonly number[]): { readonly change: number; readonly won: number } | null {
      const taken = new Map<number, { weight: number; whole: number }>();
      let along = 0;
      for (const k of members) {
        along += (weights[k] as number) * (rest[k] as number);
        const key = placeOf(readings[k]?.spacingM ?? 0);
        const level = taken.get(key) ?? { weight: 0, whole: levelWeight[k] as number };
        level.weight += weights[k] as number;
        taken.set(key, level);
      }
      let length = 0;
      for (const { weight, whole } of taken.values()) length += weight * (1 - weight / whole);
      return length > 1e-9 ? { change: along / length, won: (along * along) / length } : null;
    },
  };
}

interface Place {
  readonly chainageM: number;
  readonly seating: string | null;
  readonly members: number[];
}

function gather(places: Map<string, Place>, key: string, chainageM: number, seating: string | null, k: number): void {
  const place = places.get(key);
  if (!place) places.set(key, { chainageM, seating, members: [k] });
  else if (!place.members.includes(k)) place.members.push(k);
}

function seatingsOf(readings: readonly FollowedReading[]): Map<string, Place> {
  const places = new Map<string, Place>();
  for (const [k, { seatings, probesM }] of readings.entries()) {
    for (const side of [0, 1] as const) {
      const seating = seatings[side];
      gather(places, seating === null ? `${k}/${side}` : `s${seating}`, probesM[side], seating, k);
    }
  }
  return places;
}

function sitesOf(readings: readonly FollowedReading[]): Map<string, Place> {
  const places = new Map<string, Place>();
  for (const [k, { probesM }] of readings.entries()) {
    for (const chainageM of probesM) gather(places, String(placeOf(chainageM)), chainageM, null, k);
  }
  return places;
}

function midpointsOf(readings: readonly FollowedReading[]): Map<string, Place> {
  const places = new Map<string, Place>();
  for (const [k, { midpointM }] of readings.entries()) {
    gather(places, String(placeOf(midpointM)), midpointM, null, k);
  }
  return places;
}
