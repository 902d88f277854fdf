import { HOOKUP_LABEL, isTwoProbe } from '../survey/hookup';
import { counted, metres, nameList, ratioText } from '../survey/wording';
import type { Comparison, MatchedReading, NotComparable } from './compare';
import type { DayOrder } from './compare-days';

/** What a comparison of two surveys says and what it cannot say, in sentences. */
export function comparisonSentences(comparison: Comparison, order: DayOrder): string[] {
  const { matched, onlyBefore, onlyAfter, tested, changed, common } = comparison;
  if (matched.length === 0) {
    return ['No reading has a counterpart: the same hookup and spacing at the same place, on lines that run alike.'];
  }
  const sentences = orderSentences(order);
  const apart = matched.map(({ apartM }) => apartM).sort((p, q) => p - q);
  sentences.push(
    `${counted(matched.length, 'reading')} have a counterpart, half of them within ${metres(apart[apart.length >> 1] ?? 0)}; ${onlyBefore} of the earlier and ${onlyAfter} of the later survey have none.`,
  );
  const elsewhere = new Map<string, number>();
  for (const { line, lineBefore } of matched) {
    if (line === lineBefore) continue;
    const pair = `${lineBefore} as ${line}`;
    elsewhere.set(pair, (elsewhere.get(pair) ?? 0) + 1);
  }
  if (elsewhere.size > 0) {
    const pairs = [...elsewhere].sort((p, q) => q[1] - p[1]).map(([pair, count]) => `${pair} (${count})`);
    sentences.push(`Matched on lines of different names: ${nameList(pairs)}. See that they are the same ground.`);
  }
  const shown = matched
    .flatMap(({ smallestChangeShown, hookup }) =>
      smallestChangeShown && !isTwoProbe(hookup) ? [smallestChangeShown] : [],
    )
    .sort((p, q) => p - q);
  const middle = shown[shown.length >> 1];
  if (middle !== undefined) {
    const what = changed === 0 ? 'None changed beyond chance' : `${changed} of ${tested} changed beyond chance`;
    sentences.push(
      `${what}, each against the reference of its own time; in four of five surveys like these half of them would have shown a change by ×${ratioText(middle)} or its inverse. No change shown is not no change.`,
    );
  }
  for (const { hookup, factor, standardErrorLn, readings } of common) {
    if (isTwoProbe(hookup) || Math.abs(Math.log(factor)) <= 2 * standardErrorLn) continue;
    sentences.push(
      `All ${readings} readings of ${HOOKUP_LABEL[hookup]} together are ×${ratioText(factor)} ± ${ratioText(factor * standardErrorLn)} of before: ask first whether both references stood on the same quiet ground, with the same wetting.`,
    );
  }
  sentences.push(...notComparableSentences(matched));
  const hints = matched.filter(({ verdict }) => verdict === 'hint').length;
  if (hints > 0) {
    sentences.push(
      `${counted(hints, 'two-probe reading')}: mostly contact, new with every driving of a rod. They tell no change of the ground.`,
    );
  }
  return sentences;
}

function orderSentences(order: DayOrder): string[] {
  if (order.kind === 'reversed') {
    const { before, after } = order;
    return [
      `The survey that was taken for the earlier one was read later: it begins on ${before.first}, the other ended on ${after.last}. Change them round.`,
    ];
  }
  if (order.kind !== 'overlapping') return [];
  const { before, after } = order;
  return [
    `The days of both surveys overlap: ${before.first} to ${before.last}, and ${after.first} to ${after.last}. What lies between them is not sure.`,
  ];
}

function notComparableSentences(matched: readonly MatchedReading[]): string[] {
  const of = (wanted: NotComparable): number => matched.filter(({ reason }) => reason === wanted).length;
  const [same, other, none] = [of('same_reading'), of('other_basis'), of('no_ratio')];
  return [
    ...(same > 0 ? [`${counted(same, 'reading')} are the same in both surveys, and tell nothing of a change.`] : []),
    ...(other > 0
      ? [
          `${counted(other, 'reading')} cannot be compared: one survey has a reference, the other only the median of its own site.`,
        ]
      : []),
    ...(none > 0 ? [`${counted(none, 'reading')} cannot be compared: over range, or without a reference.`] : []),
  ];
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
