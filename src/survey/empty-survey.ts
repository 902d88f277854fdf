import { makeId } from './ids';
import { SURVEY_FORMAT, SURVEY_VERSION, type Survey } from './survey';

/** A survey with a name and nothing in it yet; its ids come from the seed. */
export function emptySurvey(seed: string, siteName: string): Survey {
  return {
    format: SURVEY_FORMAT,
    version: SURVEY_VERSION,
    id: makeId('survey', seed, 'survey'),
    site: {
      id: makeId('site', seed, 'site'),
      revised: { at: null, by: null, count: 0 },
      name: siteName,
      review_status: 'not reviewed by a licensed professional',
      setback_rules: [],
      discretion_classes: [],
      column_mappings: [],
      local_grids: [],
    },
    outings: [],
    lines: [],
    readings: [],
    references: [],
    surroundings: [],
    features: [],
    photos: [],
    settlements: [],
  };
}
