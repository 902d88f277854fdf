import type { LineFindings, MidpointFinding, NextReading, Settings, ZoneFinding } from '../findings';
import type { LonLat } from '../position/crs';
import { localPlane } from '../position/crs';
import type { LineId } from '../survey/ids';
import { metres, ratioText } from '../survey/wording';
import { groundPlaceAt } from './ground-place';
import { sitesOf } from './zone-sites';

/** A reading that a search holds useful, with the ratios that it predicts. */
export interface UsefulReading {
  readonly lineId: LineId;
  readonly chainageM: number;
  readonly spacingM: number;
  readonly hookup: MidpointFinding['hookup'];
  readonly probesM: readonly number[];
  readonly ifVoid: number;
  readonly ifNot: number;
}

/** A place that nobody should put a probe near: an opening, a rim. */
export interface Rim extends LonLat {
  readonly distanceM: number;
}

export interface NextQuestion {
  readonly zones: readonly ZoneFinding[];
  readonly lines: readonly LineFindings[];
  readonly useful: readonly UsefulReading[];
  readonly rims: readonly Rim[];
  readonly settings: Pick<Settings, 'standardErrorFloor'>;
}

/** So many are proposed at the most: the few that a person will take. */
const MOST = 5;
/** A rod that is driven anew has another contact from here on, m (choice). */
const NUDGE_M = 0.3;
/** Remotes nearer than this many of the widest spacings bend the readings (Robain et al. 1999, doi 10.1016/S0926-9851(99)00010-5). */
const REMOTE_SPACINGS = 20;

type Draft = Omit<NextReading, 'key' | 'zone' | 'lon' | 'lat'>;

/**
 * The few readings that would best separate what still stands in each zone: contact, uneven soil, a void. Ranked by how
 * many standard errors lie between the explanations that they tell apart; one of a kind a zone, the zones in turn; none
 * with a probe inside a rim distance.
 */
export function nextReadings({ zones, lines, useful, rims, settings }: NextQuestion): readonly NextReading[] {
  if (zones.length === 0) return [];
  const byId = new Map(lines.map((line) => [line.lineId, line]));
  const wanted = new Set(zones.flatMap(({ midpoints }) => midpoints));
  const byKey = new Map<string, MidpointFinding>();
  for (const { midpoints } of lines) for (const one of midpoints) if (wanted.has(one.key)) byKey.set(one.key, one);
  const perZone = zones
    .filter(({ verdict }) => verdict !== 'layer_like')
    .map((zone) => {
      const midpoints = zone.midpoints.flatMap((key) => byKey.get(key) ?? []);
      return proposalsOf(zone, midpoints, byId, useful, settings)
        .filter((draft) => isOutsideRims(draft, byId.get(draft.lineId), rims))
        .sort((p, q) => q.separation - p.separation)
        .map((draft): NextReading => {
          const line = byId.get(draft.lineId);
          const { lon, lat } = groundPlaceAt(line?.track ?? [], draft.chainageM);
          const spot = `${Math.round(1000 * draft.chainageM)}:${Math.round(1000 * (draft.spacingM ?? 0))}`;
          const sentence = `Line ${line?.name ?? ''}. ${draft.sentence}`;
          return { ...draft, sentence, key: `next:${draft.kind}:${draft.lineId}:${spot}`, zone: zone.key, lon, lat };
        });
    });
  const chosen: NextReading[] = [];
  // The best of every zone before the second best of any.
  for (let rank = 0; chosen.length < MOST && perZone.some((own) => rank < own.length); rank += 1) {
    const round = perZone.flatMap((own) => own[rank] ?? []).sort((p, q) => q.separation - p.separation);
    chosen.push(...round.slice(0, MOST - chosen.length));
  }
  return chosen;
}

function proposalsOf(
  zone: ZoneFinding,
  midpoints: readonly MidpointFinding[],
  byId: ReadonlyMap<LineId, LineFindings>,
  useful: readonly UsefulReading[],
  settings: NextQuestion['settings'],
): Draft[] {
  const peak = midpoints.reduce<MidpointFinding | null>((best, one) => (size(one) > size(best) ? one : best), null);
  const line = peak && byId.get(peak.lineId);
  if (!peak || !line || peak.ratio === null) return [];
  // Two readings with the meter's own scatter each; the reference is the same for both.
  const sigma = Math.SQRT2 * settings.standardErrorFloor;
  const drafts = [nudge(peak, peak.ratio, sigma), wet(peak, peak.ratio, sigma)];
  if (zone.figureKind === 'two_probe') return drafts.filter((draft) => draft !== null);
  const fromSearch = useful
    .filter((reading) => zone.crossings.some(({ lineId }) => lineId === reading.lineId))
    .map((reading) => measured(reading, sigma, byId.get(reading.lineId)))
    .sort((p, q) => q.separation - p.separation);
  return [
    ...drafts,
    fromSearch[0] ?? null,
    zone.lines.length === 1 ? crossing(zone, peak, sigma) : null,
    fartherRemote(peak, line),
  ].filter((draft) => draft !== null);
}

const size = (midpoint: MidpointFinding | null): number => (midpoint?.ratio ? Math.abs(Math.log(midpoint.ratio)) : -1);

const probesOf = ({ aM, bM, mM, nM }: MidpointFinding): readonly number[] =>
  [...new Set([aM, bM, mM, nM].filter((probe) => probe !== null))].sort((p, q) => p - q);

const base = (midpoint: MidpointFinding) => ({
  lineId: midpoint.lineId,
  chainageM: midpoint.chainageM,
  spacingM: midpoint.spacingM,
  hookup: midpoint.hookup,
});

const spacingWords = (spacingM: number | null): string => (spacingM === null ? '' : ` at spacing ${metres(spacingM)}`);

/** A rod beside its old hole: what belongs to the rod changes, what belongs to the ground stays. */
function nudge(peak: MidpointFinding, ratio: number, sigma: number): Draft | null {
  const probes = probesOf(peak);
  if (probes.length === 0) return null;
  const [site] = sitesOf(peak);
  const probe =
    probes.find((chainage) => site && chainage >= site.fromM && chainage <= site.toM) ?? (probes[0] as number);
  return {
    ...base(peak),
    kind: 'nudge_and_repeat',
    probesM: probes.map((chainage) => (chainage === probe ? chainage + NUDGE_M : chainage)),
    expected: { void: ratio, contact: 1, uneven_soil: ratio },
    separation: Math.abs(Math.log(ratio)) / sigma,
    sentence: `Meter off, leads out: pull the rod at ${metres(probe)}, drive it ${metres(NUDGE_M)} farther along, and read ${metres(peak.chainageM)} again${spacingWords(peak.spacingM)}. Ground, hollow or not, reads ${ratioText(ratio)} of the reference again; contact goes back towards 1.`,
  };
}

/** Water betters the contact of a rod and leaves the ground at depth as it is. */
function wet(peak: MidpointFinding, ratio: number, sigma: number): Draft | null {
  if (ratio <= 1) return null;
  return {
    ...base(peak),
    kind: 'wet_and_repeat',
    probesM: probesOf(peak),
    expected: { void: ratio, contact: 1, uneven_soil: ratio },
    // Water does not take all of a contact away: told apart half as well (choice).
    separation: (0.5 * Math.abs(Math.log(ratio))) / sigma,
    sentence: `Meter off, leads out: wet both rods with plain water and read ${metres(peak.chainageM)} again${spacingWords(peak.spacingM)}, the reference wetted alike. Ground stays at ${ratioText(ratio)}; contact falls.`,
  };
}

/** A spacing that the line does not have yet, or a place between its midpoints. */
function measured(reading: UsefulReading, sigma: number, line: LineFindings | undefined): Draft {
  const { ifVoid, ifNot, ...place } = reading;
  const hasSpacing = line?.midpoints.some(({ spacingM }) => spacingM === reading.spacingM) ?? false;
  return {
    ...place,
    kind: hasSpacing ? 'half_step' : 'fill_spacing',
    expected: { void: ifVoid, contact: null, uneven_soil: ifNot },
    separation: Math.abs(Math.log(ifVoid / ifNot)) / sigma,
    sentence: `Read ${metres(reading.chainageM)} at spacing ${metres(reading.spacingM)}: a void lets expect ${ratioText(ifVoid)} of the reference, ground without one ${ratioText(ifNot)}.`,
  };
}

/** A pocket is no passage: another line some way along shows which. */
function crossing(zone: ZoneFinding, peak: MidpointFinding, sigma: number): Draft | null {
  const [piece] = zone.footprint;
  if (!piece || peak.ratio === null) return null;
  const middleM = (piece.fromM + piece.toM) / 2;
  return {
    ...base(peak),
    kind: 'crossing_line',
    chainageM: middleM,
    probesM: [],
    expected: { void: peak.ratio, contact: 1, uneven_soil: null },
    // Where a passage goes is not known: told apart half as well (choice).
    separation: (0.5 * Math.abs(Math.log(peak.ratio))) / sigma,
    sentence: `Lay a second line beside this one, 5 to 10 m to the side of ${metres(middleM)}, with the same spacings. A passage shows there too, in a row with this; a pocket or a rod does not.`,
  };
}

/** Remotes that are too near bend wide spacings along the whole line. */
function fartherRemote(peak: MidpointFinding, line: LineFindings): Draft | null {
  const remotes = line.electrodes.filter(({ role }) => role === 'remote');
  const widest = Math.max(...line.midpoints.map(({ spacingM }) => spacingM ?? 0));
  const plane = localPlane(peak.lon, peak.lat);
  const nearest = Math.min(...remotes.map(({ lon, lat }) => Math.hypot(...plane.toPlane(lon, lat))));
  if (!(nearest < REMOTE_SPACINGS * widest) || peak.ratio === null) return null;
  return {
    ...base(peak),
    kind: 'farther_remote',
    probesM: probesOf(peak),
    expected: { void: peak.ratio, contact: peak.ratio, uneven_soil: peak.ratio },
    separation: 0,
    sentence: `A remote stands ${Math.round(nearest)} m away, and the widest spacing asks for ${Math.round(REMOTE_SPACINGS * widest)} m. Set it farther off and read ${metres(peak.chainageM)} again${spacingWords(peak.spacingM)}: what changes came from the remote.`,
  };
}

/** Rods inside a rim distance are never proposed; a proposal without rods is judged by its place. */
function isOutsideRims({ probesM, chainageM }: Draft, line: LineFindings | undefined, rims: readonly Rim[]): boolean {
  if (!line || line.track.length < 2) return false;
  const places = (probesM.length > 0 ? probesM : [chainageM]).map((at) => groundPlaceAt(line.track, at));
  return rims.every(({ lon, lat, distanceM }) => {
    // A country's inventory is far away for the most part, and a degree of latitude is nowhere shorter.
    if (places.every((place) => Math.abs(place.lat - lat) * 110_000 > distanceM)) return true;
    const plane = localPlane(lon, lat);
    return places.every((place) => Math.hypot(...plane.toPlane(place.lon, place.lat)) >= distanceM);
  });
}
