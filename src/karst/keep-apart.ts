import type { Change } from '../survey/commit';
import type { Author } from '../survey/edits';
import type { FeatureId } from '../survey/ids';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Feature, Survey } from '../survey/survey';

/**
 * Says of two features that look alike that they are two, in the record of both: they are not proposed as a pair again,
 * whichever of them a merge takes from another keeper. Refusals: `no_such_feature`, `same_feature`, `apart_already`.
 */
export function keepApart(survey: Survey, one: FeatureId, other: FeatureId, author: Author): Outcome<Change> {
  const [first, second] = [one, other].map((id) => survey.features.find((feature) => feature.id === id));
  if (!first || !second) {
    return refuse('no_such_feature', 'One of the two is not in this survey any more. Look for duplicates again.');
  }
  if (first === second) return refuse('same_feature', 'A feature is not apart from itself. Choose another one.');
  const features = [toldApart(first, other, author), toldApart(second, one, author)].flatMap((each) => each ?? []);
  if (features.length === 0) return refuse('apart_already', 'It is noted already that these are two.');
  return done({ label: 'Keep two karst features apart', put: { features } });
}

/** Null where it says so already. */
function toldApart(feature: Feature, other: FeatureId, { at, by }: Author): Feature | null {
  const others = feature.distinct_from ?? [];
  if (others.includes(other)) return null;
  return {
    ...feature,
    distinct_from: [...others, other],
    revised: { ...feature.revised, at, by, count: feature.revised.count + 1 },
  };
}
