import type { Findings } from '../findings';
import type { Survey } from '../survey/survey';
import { earlierLeaks } from './earlier-leaks';
import type { EarlierShare } from './earlier-share';
import type { Leak } from './leak';
import { lineLeaks } from './line-leaks';
import { placeLeaks } from './place-leaks';
import type { Protected } from './protected';
import type { Telling } from './telling';
import { textLeaks } from './text-leaks';

/**
 * What of a share could give a hidden feature away: lines, zones, remotes, other features, surroundings, grids, texts, and
 * earlier shares. `shown` and `findings` are redacted already, so that the whole of what would be handed out is looked at.
 */
export function leaksOf(
  shown: Survey,
  findings: Findings,
  hidden: readonly Protected[],
  telling: Telling,
  earlier: readonly EarlierShare[],
): readonly Leak[] {
  // What was taken out long ago is not looked for, but neither may its name stand anywhere.
  const standing = hidden.filter(({ feature }) => !feature.retired);
  return [
    ...lineLeaks(shown, findings, standing),
    ...placeLeaks(shown, standing),
    ...textLeaks(shown, telling),
    ...earlierLeaks(hidden, earlier),
  ];
}
