import type { Content } from '../../src/app/state/app-state';
import { appraise } from '../../src/appraise';
import type { Survey } from '../../src/survey/survey';

/** A survey as the page has it once it is computed. */
export const contentOf = (survey: Survey): Content => ({ survey, notes: [], findings: appraise(survey) });
