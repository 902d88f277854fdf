import type { Survey } from '../../../survey/survey';
import type { FeatureQuestion } from '../../../workers/karst-table';

/** What the worker is asked about: the features that stand. */
export const questionOf = ({ features, site }: Survey, withUnverified: boolean): FeatureQuestion => ({
  features: features.filter(({ retired }) => !retired),
  grids: site.local_grids,
  withUnverified,
});
