import type { Disclosed } from '../../discretion/disclose';

/** The survey document: the text of a `*.survey.json`, with everything that the audience may see. */
export function surveyText({ survey }: Disclosed): string {
  return `${JSON.stringify(survey, null, 1)}\n`;
}
