import { type LonLat, toLonLat } from '../position/crs';
import type { Position, Survey } from '../survey/survey';
import { callOf, type Leak } from './leak';
import { distanceToHiddenM, nearIndex, reachM, type Shown } from './near';
import type { Protected } from './protected';

type Told = Omit<Leak, 'id' | 'feature' | 'sentence'> & { readonly key: string; say(call: string): string };

/** Places of the record that lie near hidden features: remotes, other features, surroundings, origins of grids. */
export function placeLeaks(shown: Survey, hidden: readonly Protected[]): readonly Leak[] {
  const { local_grids: grids } = shown.site;
  const placesOf = (positions: readonly Position[]): readonly (readonly LonLat[])[] =>
    positions.flatMap((position) => {
      const place = toLonLat(position, grids);
      return place.ok ? [[place.value]] : [];
    });
  const joinedOf = (positions: readonly Position[]): readonly (readonly LonLat[])[] => [
    ...placesOf(positions),
    ...(positions.length > 1 ? [placesOf(positions).flat()] : []),
  ];
  const told: Shown<Told>[] = [
    ...shown.outings.map((outing) => ({
      parts: placesOf(outing.remotes.map(({ position }) => position)),
      value: {
        key: outing.id,
        kind: 'remote_near' as const,
        say: (call: string) => `A remote electrode of ${outing.name} stood near ${call}.`,
        remedy:
          'Withholding leaves all remote electrodes out, and for keepers the raw values that were read with them.',
        carrier: { kind: 'remotes' as const, outing: outing.id },
      },
    })),
    ...shown.features
      .filter(({ generalised_grid_m: gridM }) => !gridM)
      .map((feature) => ({
        parts: joinedOf(feature.positions),
        value: {
          key: feature.id,
          kind: 'feature_near' as const,
          say: (call: string) => `${capital(callOf(feature))} would be shown exactly and lies near ${call}.`,
          remedy: 'Withholding leaves it out, with its setback.',
          carrier: { kind: 'feature' as const, feature: feature.id },
        },
      })),
    ...shown.surroundings.map((each) => ({
      parts: joinedOf(each.positions),
      value: {
        key: each.id,
        kind: 'surrounding_near' as const,
        say: (call: string) => `A ${each.kind.replaceAll('_', ' ')} that was written down lies near ${call}.`,
        remedy: 'Withholding leaves it out.',
        carrier: { kind: 'surrounding' as const, surrounding: each.id },
      },
    })),
    ...grids.map((grid) => ({
      parts: [[{ lon: grid.origin_lon, lat: grid.origin_lat }]],
      value: {
        key: grid.name,
        kind: 'grid_origin_near' as const,
        say: (call: string) => `The origin of the local grid “${grid.name}” lies near ${call}.`,
        remedy: 'Withholding writes its positions in longitude and latitude and leaves local grids out.',
        carrier: { kind: 'grids' as const },
      },
    })),
  ];
  const near = nearIndex(told);
  return hidden.flatMap((each): readonly Leak[] => {
    if (!each.place) return [];
    return near(each, reachM(each)).flatMap(({ parts, value: { key, say, ...leak } }) => {
      if (distanceToHiddenM(each, parts) > reachM(each)) return [];
      const id = `${leak.kind}:${key}:${each.feature.id}`;
      return [{ ...leak, id, feature: each.feature.id, sentence: say(callOf(each.feature)) }];
    });
  });
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
