import type { Change } from '../survey/commit';
import type { Author } from '../survey/edits';
import { done, type Outcome } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { readSetbackRules, type SetbackRule } from './setback-rules';

/** Sets the table of setbacks. Refusals: those of `readSetbackRules`. */
export function saySetbackRules(survey: Survey, rules: readonly SetbackRule[], author: Author): Outcome<Change> {
  const read = readSetbackRules(rules);
  if (!read.ok) return read;
  const { site } = survey;
  const revised = { at: author.at, by: author.by, count: site.revised.count + 1 };
  return done({
    label: 'Say what setbacks to keep',
    site: { ...site, revised, setback_rules: rules.map((rule) => ({ ...rule })) },
  });
}
