import type { Content } from '../../src/app/state/app-state';
import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { buildLayers } from '../../src/exchange/write/layers';
import type { Survey } from '../../src/survey/survey';

/** A survey as the page has it once it is computed. */
export function contentOf(survey: Survey): Content {
  const findings = appraise(survey);
  return {
    survey,
    notes: [],
    findings,
    layers: buildLayers(disclose(survey, findings, 'surveyor'), { drape: 'midpoint' }),
  };
}
