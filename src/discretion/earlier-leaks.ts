import type { EarlierShare } from './earlier-share';
import type { Leak } from './leak';
import type { Protected } from './protected';

/**
 * Where this share and an earlier one together tell more than either: a feature that was shown exactly, by another cell,
 * or that now appears, or is gone, between shares that are otherwise alike.
 */
export function earlierLeaks(hidden: readonly Protected[], earlier: readonly EarlierShare[]): readonly Leak[] {
  return hidden.flatMap((each): Leak[] =>
    earlier.flatMap((share): Leak[] => {
      const before = share.shown.find(({ feature }) => feature === each.feature.id);
      const sentence = before && toldTogether(each, before);
      if (!sentence) return [];
      const day = share.made_at.slice(0, 10);
      return [
        {
          id: `earlier_share:${share.made_at}:${share.audience}:${each.feature.id}`,
          kind: 'earlier_share',
          feature: each.feature.id,
          sentence: `A share of ${day} for ${share.audience === 'public' ? 'the public' : `a ${share.audience}`} ${sentence}`,
          remedy: 'Withholding leaves the feature out of this share. It does not take the earlier one back.',
          carrier: { kind: 'feature', feature: each.feature.id },
        },
      ];
    }),
  );
}

function toldTogether({ cell }: Protected, before: EarlierShare['shown'][number]): string | null {
  if (before.show === 'exact') return 'showed this feature exactly: whoever has it knows the place.';
  if (before.show === 'withheld' || before.grid_m === null) return null;
  if (!cell) return null;
  if (before.grid_m !== cell.gridM) {
    return `showed it by squares of ${before.grid_m} m and this one would by squares of ${cell.gridM} m: where both overlap is smaller than either.`;
  }
  if (before.row !== cell.row || before.column !== cell.column) {
    return 'showed it by another square of the same grid: its place was corrected by little, so it lies near their common edge.';
  }
  return null;
}
