import { placeFeatures } from '../karst/placed';
import type { LonLat } from '../position/crs';
import type { FeatureId } from '../survey/ids';
import type { Feature, Survey } from '../survey/survey';
import type { Audience } from './audience';
import { type DiscretionClass, type FeatureShowing, showingFor } from './classes';
import { type GridCell, gridCell } from './grid';

/** A feature that an audience may not see as it is. */
export interface Protected extends FeatureShowing {
  readonly feature: Feature;
  /** Its place and what it consists of; null where it has none that can be read. */
  readonly place: LonLat | null;
  readonly parts: readonly (readonly LonLat[])[];
  readonly r95M: number;
  /** The cell that it is shown by; null when it is withheld. */
  readonly cell: GridCell | null;
}

/**
 * The features of a survey that have to be hidden or generalised before an audience. Retired ones count as well, and what
 * was joined is one thing: the most careful of its classes holds for all of it.
 */
export function protectedOf(
  { features, site }: Survey,
  audience: Audience,
  classes: readonly DiscretionClass[],
  alsoWithheld: ReadonlySet<FeatureId> = new Set(),
): readonly Protected[] {
  if (audience === 'surveyor') return [];
  const rootOf = rootsOf(features);
  const careful = new Map<FeatureId, FeatureShowing>();
  const withheldToo = new Set<FeatureId>();
  for (const feature of features) {
    const root = rootOf(feature);
    careful.set(root, moreCareful(careful.get(root), showingFor(feature, audience, classes)));
    if (alsoWithheld.has(feature.id)) withheldToo.add(root);
  }
  const hidden = features.flatMap((feature) => {
    const shown = careful.get(rootOf(feature)) as FeatureShowing;
    if (withheldToo.has(rootOf(feature))) {
      return [{ feature, ...shown, showing: { show: 'withheld' as const }, reason: 'it was settled so' }];
    }
    return shown.showing.show === 'exact' ? [] : [{ feature, ...shown }];
  });
  const { placed } = placeFeatures(
    hidden.map(({ feature }) => (feature.retired ? { ...feature, retired: false } : feature)),
    site.local_grids,
  );
  const byId = new Map(placed.map((each) => [each.feature.id, each]));
  return hidden.map((each): Protected => {
    const found = byId.get(each.feature.id);
    const { showing } = each;
    return {
      ...each,
      place: found?.place ?? null,
      parts: found?.parts.map(({ places }) => places) ?? [],
      r95M: found?.r95M ?? 0,
      cell: found && showing.show === 'generalised' ? gridCell(found.place, showing.grid_m) : null,
    };
  });
}

/** What each feature was joined into in the end; itself where it was not. */
function rootsOf(features: readonly Feature[]): (feature: Feature) => FeatureId {
  const into = new Map(features.flatMap(({ id, merged_into: other }) => (other ? [[id, other] as const] : [])));
  return ({ id }) => {
    let root = id;
    // Copies that were joined each into the other would go round for ever: the first id in order stands for the round.
    const seen = new Set<FeatureId>([root]);
    for (let next = into.get(root); next; next = into.get(root)) {
      if (seen.has(next)) return [...roundFrom(next, into)].sort()[0] as FeatureId;
      seen.add(next);
      root = next;
    }
    return root;
  };
}

function roundFrom(start: FeatureId, into: ReadonlyMap<FeatureId, FeatureId>): ReadonlySet<FeatureId> {
  const round = new Set<FeatureId>();
  for (let id: FeatureId | undefined = start; id && !round.has(id); id = into.get(id)) round.add(id);
  return round;
}

/** Of two ways to show one thing the one that tells less, with the wider radius of both. */
function moreCareful(p: FeatureShowing | undefined, q: FeatureShowing): FeatureShowing {
  if (!p) return q;
  const less = tellsLess(q) > tellsLess(p) ? q : p;
  return { ...less, radiusM: Math.max(p.radiusM, q.radiusM) };
}

const tellsLess = ({ showing }: FeatureShowing): number =>
  showing.show === 'exact' ? 0 : showing.show === 'generalised' ? showing.grid_m : Infinity;
