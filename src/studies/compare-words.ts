import { HOOKUP_LABEL, isTwoProbe } from '../survey/hookup';
import { counted, metres, ratioText } from '../survey/wording';
import type { Comparison } from './compare';

/** What a comparison of two surveys says and what it cannot say, in sentences. */
export function comparisonSentences({ matched, onlyBefore, onlyAfter, tested, changed, common }: Comparison): string[] {
  if (matched.length === 0) {
    return ['No reading has a counterpart: the same hookup and spacing at the same place, on lines that run alike.'];
  }
  const apart = matched.map(({ apartM }) => apartM).sort((p, q) => p - q);
  const sentences = [
    `${counted(matched.length, 'reading')} have a counterpart, half of them within ${metres(apart[apart.length >> 1] ?? 0)}; ${onlyBefore} of the earlier and ${onlyAfter} of the later survey have none.`,
  ];
  const shown = matched
    .flatMap(({ smallestChangeShown, hookup }) =>
      smallestChangeShown && !isTwoProbe(hookup) ? [smallestChangeShown] : [],
    )
    .sort((p, q) => p - q);
  const middle = shown[shown.length >> 1];
  if (middle !== undefined) {
    const what = changed === 0 ? 'None changed beyond chance' : `${changed} of ${tested} changed beyond chance`;
    sentences.push(
      `${what}, each against the reference of its own time; half of them would have shown a change by ×${ratioText(middle)} or its inverse. No change shown is not no change.`,
    );
  }
  for (const { hookup, factor, standardErrorLn, readings } of common) {
    if (isTwoProbe(hookup) || Math.abs(Math.log(factor)) <= 2 * standardErrorLn) continue;
    sentences.push(
      `All ${readings} readings of ${HOOKUP_LABEL[hookup]} together are ×${ratioText(factor)} ± ${ratioText(factor * standardErrorLn)} of before: ask first whether both references stood on the same quiet ground, with the same wetting.`,
    );
  }
  const leads = matched.filter(({ verdict }) => verdict === 'lead').length;
  if (leads > 0) {
    sentences.push(
      `${counted(leads, 'two-probe reading')}: mostly contact, new with every driving of a rod. They tell no change of the ground.`,
    );
  }
  return sentences;
}

/** Readings that changed beyond chance, the surest first, as sentences. */
export function changeSentences({ matched }: Comparison, most: number): string[] {
  return matched
    .filter(({ verdict }) => verdict === 'higher_than_before' || verdict === 'lower_than_before')
    .sort((p, q) => Math.abs(q.zScore ?? 0) - Math.abs(p.zScore ?? 0))
    .slice(0, most)
    .map(
      ({ line, chainageM, spacingM, change, standardErrorLn }) =>
        `line ${line} at ${metres(chainageM)}, spacing ${metres(spacingM)}: ×${ratioText(change ?? 1)} ± ${ratioText((change ?? 1) * (standardErrorLn ?? 0))} of before`,
    );
}
