import type {
  FigureKind,
  LineFindings,
  MidpointFinding,
  Range95,
  ZoneFinding,
  ZoneStretch,
  ZoneVerdict,
} from '../findings';
import type { DoubtCode } from '../survey/doubt';
import type { LineId } from '../survey/ids';
import type { Stretch } from './stretch';
import { trendOf } from './trend';
import { clustersOf, linked } from './zone-clusters';
import { joinedStretches, likelySitesOf, overlap } from './zone-sites';
import { zoneParagraph } from './zone-words';

/** What a search of a line, or of several lines together, found that its threshold let through. */
export interface SearchedVoid {
  readonly verdict: ZoneVerdict;
  readonly crossings: readonly { readonly lineId: LineId; readonly chainageM: Range95 }[];
  readonly depthM: Range95;
  readonly radiusM: Range95;
  readonly chanceOfNoVoid: number;
  /** Keys of the midpoints that carry it. */
  readonly midpoints: readonly string[];
}

/** Contact is what a cluster is most likely to be where at least this share of its readings is doubted as contact (choice). */
const MOSTLY_CONTACT = 0.5;
/** A zone is no narrower to either side than this, m (choice): nobody knows which side of the line it lies. */
const LEAST_HALF_WIDTH_M = 0.5;

/** A zone in the making. */
interface Draft {
  readonly searched: SearchedVoid | null;
  readonly members: readonly Member[];
}

interface Member {
  readonly line: LineFindings;
  readonly midpoint: MidpointFinding;
}

/**
 * Zones: each void that a search found, and each cluster of neighbouring graded readings, joined where they lie on one
 * stretch of line. Only a search makes a zone `void_like`, and two-probe hints never do: neighbours stand out together
 * over uneven soil too, and over a dry patch. What a search found under a line that has leads only by now is left out.
 */
export function zonesOf(
  lines: readonly LineFindings[],
  searched: readonly SearchedVoid[],
  searchedLines: readonly LineId[] = [],
): readonly ZoneFinding[] {
  const byId = new Map(lines.map((line) => [line.lineId, line]));
  const proper = new Set(lines.filter(hasProperReading).map(({ lineId }) => lineId));
  const found = searched.map((one): Draft => {
    const carrying = new Set(one.midpoints);
    const members = lines.flatMap((line) =>
      line.midpoints.flatMap((midpoint) => (carrying.has(midpoint.key) ? [{ line, midpoint }] : [])),
    );
    return { searched: { ...one, crossings: one.crossings.filter(({ lineId }) => proper.has(lineId)) }, members };
  });
  const clusters = lines.flatMap((line) =>
    clustersOf(line).map(
      (members): Draft => ({
        searched: null,
        members: members.map((midpoint) => ({ line, midpoint })),
      }),
    ),
  );
  const drafts = joinedDrafts([...found, ...clusters], byId);
  const zones = drafts.map((draft) => zoneFrom(draft, byId, new Set(searchedLines)));
  const order = new Map(lines.map(({ lineId }, i) => [lineId, i]));
  const placeOf = ({ footprint }: ZoneFinding): [number, number] => {
    const [first] = footprint;
    return [order.get(first?.lineId as LineId) ?? Infinity, first?.fromM ?? 0];
  };
  return zones
    .filter(({ footprint }) => footprint.length > 0)
    .sort((p, q) => {
      const [pLine, pFrom] = placeOf(p);
      const [qLine, qFrom] = placeOf(q);
      return Number(q.basis === 'search') - Number(p.basis === 'search') || pLine - qLine || pFrom - qFrom;
    })
    .map((zone, i) => ({ ...zone, name: `Zone ${i + 1}` }))
    .map((zone) => ({ ...zone, paragraph: zoneParagraph(zone, lines) }));
}

const hasProperReading = ({ midpoints }: LineFindings): boolean =>
  midpoints.some(({ figureKind }) => figureKind === 'apparent_resistivity');

/** A search takes the clusters into itself that lie where it found something; clusters alone stay apart. */
function joinedDrafts(drafts: readonly Draft[], byId: ReadonlyMap<LineId, LineFindings>): readonly Draft[] {
  const withPlaces = drafts.map((draft) => ({ draft, places: coreOf(draft, byId) }));
  const touch = (p: (typeof withPlaces)[number], q: (typeof withPlaces)[number]): boolean =>
    (p.draft.searched !== null) !== (q.draft.searched !== null) &&
    kindOf(p.draft) === kindOf(q.draft) &&
    p.places.some((place) => q.places.some((other) => place.lineId === other.lineId && overlap(place, other)));
  return linked(withPlaces, touch).flatMap((group) => {
    const own = group.filter(({ draft }) => draft.searched !== null);
    if (own.length <= 1) return [mergedDraft(group.map(({ draft }) => draft))];
    // Two finds that one cluster touches stay two: the cluster goes with the more certain one.
    const [best, ...others] = own.sort((p, q) => chance(p.draft) - chance(q.draft));
    const clusters = group.filter(({ draft }) => draft.searched === null).map(({ draft }) => draft);
    return [mergedDraft([(best as (typeof own)[number]).draft, ...clusters]), ...others.map(({ draft }) => draft)];
  });
}

const chance = ({ searched }: Draft): number => searched?.chanceOfNoVoid ?? 1;

function mergedDraft(drafts: readonly Draft[]): Draft {
  const members = new Map(drafts.flatMap((draft) => draft.members.map((member) => [member.midpoint.key, member])));
  return { searched: drafts.find(({ searched }) => searched)?.searched ?? null, members: [...members.values()] };
}

const kindOf = ({ searched, members }: Draft): FigureKind =>
  searched ? 'apparent_resistivity' : (members[0]?.midpoint.figureKind ?? 'apparent_resistivity');

/** Where a draft is taken to lie on its lines. */
function coreOf({ searched, members }: Draft, byId: ReadonlyMap<LineId, LineFindings>): readonly ZoneStretch[] {
  if (!searched) return stretchesOf(members);
  return searched.crossings
    .filter(({ lineId }) => byId.has(lineId))
    .map(({ lineId, chainageM }) => ({
      lineId,
      fromM: chainageM.low95 - searched.radiusM.high95,
      toM: chainageM.high95 + searched.radiusM.high95,
      halfWidthM: Math.max(LEAST_HALF_WIDTH_M, searched.radiusM.high95),
    }));
}

/** The places of the members on each line, with what of the ground beside the line they look at. */
function stretchesOf(members: readonly Member[]): readonly ZoneStretch[] {
  const byLine = new Map<LineFindings, MidpointFinding[]>();
  for (const { line, midpoint } of members) {
    const own = byLine.get(line);
    if (own) own.push(midpoint);
    else byLine.set(line, [midpoint]);
  }
  return [...byLine].flatMap(([line, midpoints]) => {
    const likely = likelySitesOf(midpoints);
    const sites = midpoints.map((midpoint, i) => ({ midpoint, sites: likely[i] as readonly Stretch[] }));
    return joinedStretches(sites.flatMap((each) => each.sites)).map((stretch) => ({
      lineId: line.lineId,
      ...stretch,
      halfWidthM: halfWidthOf(
        sites.filter((each) => each.sites.some((site) => overlap(site, stretch))).map(({ midpoint }) => midpoint),
      ),
    }));
  });
}

/** Half the smallest spacing that stands out there (choice), and never less than the line's place is unsure. */
function halfWidthOf(midpoints: readonly MidpointFinding[]): number {
  const spacings = midpoints.flatMap(({ spacingM }) => (spacingM === null ? [] : [spacingM]));
  const unsureM = Math.max(...midpoints.map(({ uncertainty95M }) => uncertainty95M));
  return Math.max(LEAST_HALF_WIDTH_M, unsureM, spacings.length > 0 ? Math.min(...spacings) / 2 : 0);
}

function zoneFrom(
  draft: Draft,
  byId: ReadonlyMap<LineId, LineFindings>,
  searchedLines: ReadonlySet<LineId>,
): ZoneFinding {
  const { searched, members } = draft;
  const midpoints = members.map(({ midpoint }) => midpoint);
  const peak = peakOf(midpoints);
  const core = coreOf(draft, byId);
  // The fit, and the places of the readings that carry it.
  const footprint = searched ? merged([...core, ...stretchesOf(members)]) : core;
  const doubts = [...new Set(midpoints.flatMap(({ doubts: own }) => own))].sort();
  const lines = [...new Set(footprint.map(({ lineId }) => lineId))];
  const [first] = footprint;
  const crossings = searched?.crossings.filter(({ lineId }) => byId.has(lineId)) ?? [];
  return {
    key: `zone:${first?.lineId ?? ''}:${Math.round(1000 * (first?.fromM ?? 0))}:${kindOf(draft)}`,
    name: '',
    paragraph: '',
    verdict: searched?.verdict ?? verdictOf(midpoints),
    basis: searched ? 'search' : 'grades',
    searched: searched !== null || lines.every((line) => searchedLines.has(line)),
    figureKind: kindOf(draft),
    footprint,
    crossings,
    peakRatio: peak?.ratio ?? null,
    peakRatioStandardError: peak?.ratioStandardError ?? null,
    highs: midpoints.filter(({ sign, grade }) => grade !== 'none' && sign === 'above_reference').length,
    lows: midpoints.filter(({ sign, grade }) => grade !== 'none' && sign === 'below_reference').length,
    depthM: searched?.depthM ?? depthsOf(midpoints),
    radiusM: searched?.radiusM ?? null,
    chanceOfNoVoid: searched?.chanceOfNoVoid ?? null,
    midpoints: midpoints.map(({ key }) => key),
    readingCount: midpoints.reduce((sum, { readingCount }) => sum + readingCount, 0),
    lines,
    outings: [...new Set(members.flatMap(({ line }) => line.outings))],
    doubts,
    trendDeg: trendOf(
      crossings.flatMap(({ lineId, chainageM }) => {
        const line = byId.get(lineId);
        return line ? [{ line, chainageM }] : [];
      }),
    ),
  };
}

function peakOf(midpoints: readonly MidpointFinding[]): MidpointFinding | null {
  const away = ({ ratio }: MidpointFinding): number => (ratio === null ? -1 : Math.abs(Math.log(ratio)));
  return midpoints.reduce<MidpointFinding | null>(
    (peak, one) => (away(one) > (peak ? away(peak) : -1) ? one : peak),
    null,
  );
}

/** What the members look at by the depth rule; null for two probes, which have no depth. */
function depthsOf(midpoints: readonly MidpointFinding[]): Range95 | null {
  const depths = midpoints.flatMap(({ depthM }) => (depthM === null ? [] : [depthM]));
  return depths.length === 0 ? null : { best: null, low95: Math.min(...depths), high95: Math.max(...depths) };
}

const CONTACT: readonly DoubtCode[] = ['contact_suspected', 'not_pole_pole'];

function verdictOf(midpoints: readonly MidpointFinding[]): ZoneVerdict {
  const doubted = midpoints.filter(({ doubts }) => doubts.some((code) => CONTACT.includes(code)));
  return doubted.length >= MOSTLY_CONTACT * midpoints.length ? 'contact_like' : 'unresolved';
}

/** Pieces of one line that overlap become one, as wide as the widest. */
function merged(pieces: readonly ZoneStretch[]): readonly ZoneStretch[] {
  const lines = [...new Set(pieces.map(({ lineId }) => lineId))];
  return lines.flatMap((lineId) => {
    const own = pieces.filter((piece) => piece.lineId === lineId);
    return joinedStretches(own).map((stretch: Stretch) => ({
      lineId,
      ...stretch,
      halfWidthM: Math.max(...own.filter((piece) => overlap(piece, stretch)).map(({ halfWidthM }) => halfWidthM)),
    }));
  });
}
