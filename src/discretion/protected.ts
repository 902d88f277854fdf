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

/** The features of a survey that have to be hidden or generalised before an audience. Retired ones count as well. */
export function protectedOf(
  { features, site }: Survey,
  audience: Audience,
  classes: readonly DiscretionClass[],
  alsoWithheld: ReadonlySet<FeatureId> = new Set(),
): readonly Protected[] {
  if (audience === 'surveyor') return [];
  const hidden = features.flatMap((feature) => {
    const shown = showingFor(feature, audience, classes);
    if (alsoWithheld.has(feature.id)) {
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
