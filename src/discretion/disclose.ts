import type { Findings } from '../findings';
import type { Survey } from '../survey/survey';

/** For whom something is written. The surveyor sees everything; the others come with the rules of discretion. */
export type Audience = 'surveyor';

declare const disclosed: unique symbol;

/** What an audience may see. Writers take nothing else, so that nothing can be written past this room. */
export interface Disclosed {
  readonly audience: Audience;
  readonly survey: Survey;
  readonly findings: Findings;
  readonly [disclosed]: true;
}

/** The survey and its findings as this audience may see them. */
export function disclose(survey: Survey, findings: Findings, audience: Audience): Disclosed {
  return { audience, survey, findings } as Disclosed;
}
