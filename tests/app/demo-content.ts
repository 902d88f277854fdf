import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Content } from '../../src/app/state/app-state';
import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { settingsOf } from '../../src/evidence/settings';
import { readSurveyFile } from '../../src/exchange/read/survey-file';
import type { Drape, Layers } from '../../src/exchange/write/layer-collection';
import { buildLayers } from '../../src/exchange/write/layers';

export const DEMO_FILE = fileURLToPath(
  new URL('../../demo-data/survey-form/brackamore-slade.survey.json', import.meta.url),
);

/** The demo survey as the page has it once it is open, and its layers as files have them, computed here by the same core. */
export function demoContent(drape: Drape = 'midpoint'): Content & { readonly layers: Layers } {
  const { survey, notes } = readSurveyFile(readFileSync(DEMO_FILE), DEMO_FILE);
  if (!survey) throw new Error('the demo cannot be read');
  const settings = settingsOf(survey.site);
  if (!settings.ok) throw new Error(settings.sentence);
  const findings = appraise(survey, settings.value);
  const layers = buildLayers(disclose(survey, findings, 'surveyor'), { drape });
  return { survey, notes, findings, layers };
}
