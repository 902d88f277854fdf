import { mostOfAVoid } from '../../ground/most-of-a-void';
import { isTwoProbe } from '../../survey/hookup';
import { chainageList, counted, ratioText } from '../../survey/wording';
import { type DoubtContext, doubtAbout, type FindDoubts, readingsOf, type ScoredPlace } from './doubt-context';

/**
 * Ratios beyond what any air-filled void within the bounds of `mostOfAVoid` can do, by as many standard errors as a grade
 * takes: something else is behind them, or a larger void. Two-probe figures have no such bound, and are left out.
 */
export const beyondVoid: FindDoubts = (context) =>
  [true, false].flatMap((above) => {
    const found = context.places.filter((scored) => isBeyond(scored, above, context));
    return found.length === 0 ? [] : [told(context, found, above)];
  });

function isBeyond({ place, score }: ScoredPlace, above: boolean, { settings }: DoubtContext): boolean {
  const { lnRatio, standardErrorLn, grade } = score;
  if (lnRatio === null || standardErrorLn === null || grade === 'none' || lnRatio > 0 !== above) return false;
  const layout = place.counted[0]?.layout;
  if (!layout || isTwoProbe(place.hookup)) return false;
  const most = mostOfAVoid(layout);
  if (!most) return false;
  const beyondLn = above ? lnRatio - Math.log(most.highestRatio) : Math.log(most.lowestRatio) - lnRatio;
  return beyondLn > settings.zThreshold * standardErrorLn;
}

function told({ line }: DoubtContext, found: readonly ScoredPlace[], above: boolean) {
  const alone = found.length === 1 ? found[0] : undefined;
  const ratios = found.map(({ score }) => score.ratio as number);
  const extreme = above ? Math.max(...ratios) : Math.min(...ratios);
  return doubtAbout({
    code: 'beyond_void',
    severity: 'note',
    line: line.id,
    chainageM: alone?.place.chainageM ?? null,
    spacingM: alone?.place.spacingM ?? null,
    aspect: above ? 'above' : 'below',
    sentence: `Line ${line.name}, ${counted(found.length, 'place')} (${chainageList(found.map(({ place }) => place.chainageM))}): ratios to ${ratioText(extreme)} are ${above ? 'higher' : 'lower'} than any air-filled void of up to 5 m in radius under the line makes them. Contact, other soil or rock, an opening, or a larger void is behind them.`,
    remedy: 'Re-drive and wet the rods and read again, and probe the soil depth here and at the reference.',
    readings: found.flatMap(({ place }) => readingsOf(place)),
  });
}
