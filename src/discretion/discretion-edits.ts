import type { Change } from '../survey/commit';
import type { Author } from '../survey/edits';
import { done, type Outcome } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { type DiscretionClass, readDiscretionClasses } from './classes';
import type { EarlierShare } from './earlier-share';

/** Sets the table of classes. Refusals: those of `readDiscretionClasses`. */
export function sayDiscretionClasses(
  survey: Survey,
  classes: readonly DiscretionClass[],
  author: Author,
): Outcome<Change> {
  const read = readDiscretionClasses(classes);
  if (!read.ok) return read;
  return done({
    label: 'Say what classes of confidentiality mean',
    site: signed(survey, author, { discretion_classes: [...classes] }),
  });
}

/** Remembers a share, so that the next one is compared with it. */
export function rememberShare(survey: Survey, share: EarlierShare, author: Author): Change {
  const { shares } = survey.site;
  return {
    label: `Remember a share for ${share.audience}`,
    site: signed(survey, author, { shares: [...(shares ?? []), share] }),
  };
}

function signed({ site }: Survey, { at, by }: Author, more: object): Survey['site'] {
  return { ...site, ...more, revised: { at, by, count: site.revised.count + 1 } };
}
