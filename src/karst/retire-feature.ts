import type { Change } from '../survey/commit';
import type { Author } from '../survey/edits';
import type { FeatureId } from '../survey/ids';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { retireFeature } from './feature-edits';

/**
 * Takes a feature out with a reason, which is kept with it as `status_reason`.
 * Refusals: `no_reason` and those of `retireFeature`.
 */
export function retireFeatureFor(survey: Survey, id: FeatureId, reason: string, author: Author): Outcome<Change> {
  if (reason.trim() === '') return refuse('no_reason', 'Say why it is taken out, so that others can judge it.');
  const change = retireFeature(survey, id, author);
  if (!change.ok) return change;
  const features = (change.value.put?.features ?? []).map((feature) => ({ ...feature, status_reason: reason.trim() }));
  return done({ ...change.value, put: { features } });
}
