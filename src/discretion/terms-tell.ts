import { done, type Outcome, refuse } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';
import { classesOf } from './classes';
import type { Settled } from './disclose-to';
import { callOf } from './leak';
import { protectedOf } from './protected';
import { tellingOf } from './telling';

/**
 * What is typed in when a share is made stands in it beside the record: title, contact, licence. Nobody but who types it can
 * mend it, so it is refused where it tells of a hidden feature, unless a name of the same one was accepted elsewhere.
 * Refusals: `words_tell`, with the piece and what it tells; those of `readDiscretionClasses`.
 */
export function wordsMayStand(
  survey: Survey,
  audience: Audience,
  settled: readonly Settled[],
  words: Readonly<Record<string, string | null>>,
): Outcome<null> {
  if (audience === 'surveyor') return done(null);
  const classes = classesOf(survey);
  if (!classes.ok) return classes;
  const telling = tellingOf(protectedOf(survey, audience, classes.value));
  const accepted = settled.filter(({ leak, decision }) => decision === 'accept' && leak.startsWith('named:'));
  for (const [called, text] of Object.entries(words)) {
    const told = text === null ? [] : telling.tells(text);
    const open = told.find(({ feature }) => !accepted.some(({ leak }) => leak.endsWith(`:${feature.id}`)));
    if (open) {
      const whom = isOutside(audience) ? 'before outsiders' : 'before other keepers';
      return refuse(
        'words_tell',
        `The ${called} “${(text ?? '').slice(0, 80)}” tells of ${callOf(open.feature)}, which is hidden ${whom}. Say it in other words.`,
      );
    }
  }
  return done(null);
}
