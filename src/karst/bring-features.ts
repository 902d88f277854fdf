import type { Change } from '../survey/commit';
import type { Author } from '../survey/edits';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Feature, Survey } from '../survey/survey';
import { counted } from '../survey/wording';

/** What a file of features would do to a survey. */
export interface Brought {
  /** Not here yet. */
  readonly fresh: readonly Feature[];
  /** Here already under the same source and number or place: they stay as they are, with whatever was said since. */
  readonly known: number;
}

/** Parts what was read into what is new and what the survey has. The same file twice brings nothing the second time. */
export function broughtInto(survey: Survey, features: readonly Feature[]): Brought {
  const here = new Set<string>(survey.features.map(({ id }) => id));
  const fresh = features.filter(({ id }) => !here.has(id));
  return { fresh, known: features.length - fresh.length };
}

/**
 * Puts features of a file into a survey, and remembers how the file was read. `mapping` is an entry of
 * `site.column_mappings`; null where nothing had to be said. Refusal: `nothing_new`.
 */
export function bringFeatures(
  survey: Survey,
  features: readonly Feature[],
  mapping: object | null,
  author: Author,
): Outcome<Change> {
  const { fresh } = broughtInto(survey, features);
  if (fresh.length === 0) {
    return refuse('nothing_new', 'Every feature of this file is in the inventory already. Nothing was changed.');
  }
  const { site } = survey;
  const isRemembered = mapping === null || site.column_mappings.some((each) => isEqual(each, mapping));
  const revised = { at: author.at, by: author.by, count: site.revised.count + 1 };
  return done({
    label: `Bring in ${counted(fresh.length, 'karst feature')}`,
    put: { features: fresh.map((feature) => ({ ...feature, entered_at: feature.entered_at ?? author.at })) },
    ...(isRemembered ? {} : { site: { ...site, revised, column_mappings: [...site.column_mappings, mapping] } }),
  });
}

const isEqual = (p: object, q: object): boolean => JSON.stringify(p) === JSON.stringify(q);
