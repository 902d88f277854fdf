import type { Cuts } from './cuts';
import type { EarlierShare } from './earlier-share';
import type { Leak } from './leak';

/**
 * What an earlier share held and this one leaves out because it lies near a hidden place: who has both sees what is
 * missing, and so about where.
 */
export function goneLeaks(cuts: Cuts, settledAs: readonly Leak[], earlier: readonly EarlierShare[]): readonly Leak[] {
  const cut = new Map<string, Leak>();
  for (const leak of settledAs) {
    if (leak.carrier.kind === 'line' && cuts.lines.has(leak.carrier.line)) cut.set(leak.carrier.line, leak);
    if (leak.kind === 'feature_near' && leak.carrier.kind === 'feature') cut.set(leak.carrier.feature, leak);
  }
  return earlier.flatMap((share): readonly Leak[] => {
    const held = new Set([
      ...(share.lines ?? []),
      ...share.shown.filter(({ show }) => show === 'exact').map(({ feature }) => feature),
    ]);
    return [...cut].flatMap(([id, { feature, kind }]): readonly Leak[] => {
      if (!held.has(id)) return [];
      const what = kind === 'feature_near' ? 'a feature' : 'a line';
      return [
        {
          id: `gone:${share.made_at}:${share.audience}:${id}`,
          kind: 'gone',
          feature,
          sentence: `A share of ${share.made_at.slice(0, 10)} held ${what} that this one leaves out: who has both sees what is missing, and about where the protected place is.`,
          remedy: 'It stays left out either way. Accepting says why in the share; withholding says nothing.',
          carrier: { kind: 'none' },
        },
      ];
    });
  });
}
