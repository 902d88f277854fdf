import type { LineFindings, MidpointFinding } from '../findings';
import { isGraded, overlap, sitesOf } from './zone-sites';

/** Steps between midpoints of one spacing up to this many times their usual one are neighbours (choice). */
const NEIGHBOUR_STEPS = 1.6;

/**
 * Groups of graded midpoints of a line that may have one cause. Each is seeded by neighbours: graded midpoints next to
 * each other at one spacing, or at one place at the next spacing. Other graded midpoints join where a place of theirs
 * (see `sitesOf`) lies within one of the seed's. A graded midpoint that stands alone is no cluster: with a hundred
 * readings one of them stands out by chance.
 * Two-probe hints and proper readings are never of one cluster: they are not figures of one kind.
 */
export function clustersOf({ midpoints }: LineFindings): readonly (readonly MidpointFinding[])[] {
  return (['apparent_resistivity', 'two_probe'] as const).flatMap((kind) => {
    const graded = midpoints.filter((midpoint) => midpoint.figureKind === kind && isGraded(midpoint));
    if (graded.length < 2) return [];
    const own = midpoints.filter(({ figureKind }) => figureKind === kind);
    const rows = rowsOf(own);
    const seeds = linked(graded, (p, q) => areNeighbours(p, q, rows)).filter((group) => group.length > 1);
    const seeded = new Set(seeds.flat());
    const alone = graded.filter((midpoint) => !seeded.has(midpoint));
    const joined = linked(
      seeds.map((members) => ({ members, sites: members.flatMap(sitesOf) })),
      (p, q) => p.sites.some((site) => q.sites.some((other) => overlap(site, other))),
    ).map((groups) => groups.flatMap(({ members }) => members));
    return joined.map((members) => {
      const sites = members.flatMap(sitesOf);
      const more = alone.filter((midpoint) =>
        sitesOf(midpoint).some((site) => sites.some((other) => overlap(site, other))),
      );
      return [...members, ...more].sort((p, q) => p.chainageM - q.chainageM || (p.spacingM ?? 0) - (q.spacingM ?? 0));
    });
  });
}

/** The midpoints of one spacing along a line: its rank among the spacings, and the step that is usual in it. */
interface Row {
  readonly rank: number;
  readonly stepM: number;
}

const spacingKey = ({ spacingM }: MidpointFinding): number => (spacingM === null ? -1 : Math.round(spacingM * 1000));

function rowsOf(midpoints: readonly MidpointFinding[]): ReadonlyMap<number, Row> {
  const chainages = new Map<number, number[]>();
  for (const midpoint of midpoints) {
    const key = spacingKey(midpoint);
    const row = chainages.get(key);
    if (row) row.push(midpoint.chainageM);
    else chainages.set(key, [midpoint.chainageM]);
  }
  const sorted = [...chainages].sort(([p], [q]) => p - q);
  return new Map(sorted.map(([key, row], rank) => [key, { rank, stepM: usualStepM(row) }]));
}

function usualStepM(chainages: readonly number[]): number {
  const sorted = [...chainages].sort((p, q) => p - q);
  const steps = sorted
    .slice(1)
    .map((chainage, i) => chainage - (sorted[i] as number))
    .filter((step) => step > 0)
    .sort((p, q) => p - q);
  return steps[Math.floor((steps.length - 1) / 2)] ?? 1;
}

function areNeighbours(p: MidpointFinding, q: MidpointFinding, rows: ReadonlyMap<number, Row>): boolean {
  const [own, other] = [rows.get(spacingKey(p)), rows.get(spacingKey(q))];
  if (!own || !other) return false;
  const apartM = Math.abs(p.chainageM - q.chainageM);
  if (own === other) return apartM <= NEIGHBOUR_STEPS * own.stepM;
  return Math.abs(own.rank - other.rank) === 1 && apartM <= 0.5 * Math.min(own.stepM, other.stepM);
}

/** Groups of things that hang together through any chain of `areLinked`. */
export function linked<T>(things: readonly T[], areLinked: (p: T, q: T) => boolean): readonly (readonly T[])[] {
  const groups: T[][] = [];
  const left = new Set(things);
  for (const first of things) {
    if (!left.delete(first)) continue;
    const group = [first];
    for (let i = 0; i < group.length; i += 1) {
      for (const other of left) {
        if (!areLinked(group[i] as T, other)) continue;
        left.delete(other);
        group.push(other);
      }
    }
    groups.push(group);
  }
  return groups;
}
