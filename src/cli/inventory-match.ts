import { likelyDuplicates } from '../karst/match';
import { counted } from '../survey/wording';
import { printable } from './faults';
import { lengthOption, placedOf } from './inventory-counted';
import { readDocument, readKeepers } from './inventory-read';
import { parsed } from './options';

/** Pairs that a terminal shows. */
const MOST_SHOWN = 100;

/** `inventory match`: pairs that are likely to be one thing. */
export function inventoryMatch(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    columns: { type: 'string' },
    within: { type: 'string' },
    json: { type: 'boolean' },
  });
  const extraM = lengthOption(values.within, '--within', 0) ?? 0;
  const keepers = readKeepers(positionals, values.columns);
  const { placed, unplaced } = placedOf(keepers);
  const { pairs, crowded } = likelyDuplicates(placed, { extraM });
  if (values.json) {
    const document = {
      files: keepers.map(readDocument),
      features: placed.length,
      unplaced: unplaced.map(({ feature, sentence }) => ({ id: feature.id, sentence })),
      extra_m: extraM,
      pairs: pairs.map((pair) => ({
        ids: pair.ids,
        grade: pair.grade,
        distance_m: Number(pair.distanceM.toFixed(2)),
        within_m: Number(pair.withinM.toFixed(2)),
        types: pair.types,
        name_similarity: pair.nameSimilarity === null ? null : Number(pair.nameSimilarity.toFixed(3)),
        sentence: pair.sentence,
      })),
      crowded,
    };
    print(JSON.stringify(document, null, 2));
    return 0;
  }
  const likely = pairs.filter(({ grade }) => grade === 'likely').length;
  const rest = pairs.length - MOST_SHOWN;
  const lines = [
    `${counted(placed.length, 'feature')}: ${likely} likely and ${pairs.length - likely} possible pairs. Nothing was joined.`,
    ...pairs.slice(0, MOST_SHOWN).map(({ grade, sentence }) => `  ${grade}: ${sentence}`),
    ...(rest > 0 ? [`  and ${rest} more; --json lists all.`] : []),
    ...(crowded.length > 0
      ? [`  ${counted(crowded.length, 'feature')} with too many neighbours to list them all; --json names them.`]
      : []),
  ];
  print(lines.map(printable).join('\n'));
  return 0;
}
