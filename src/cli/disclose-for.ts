import type { Audience } from '../discretion/audience';
import { type Disclosed, disclose } from '../discretion/disclose';
import { discloseTo, type Settled } from '../discretion/disclose-to';
import { type EarlierShare, earlierSharesOf } from '../discretion/earlier-share';
import { wordsMayStand } from '../discretion/terms-tell';
import type { Findings } from '../findings';
import type { Survey } from '../survey/survey';
import { BadInput, faultOf, printable } from './faults';
import { jsonOf } from './inventory-read';

export interface DisclosedFor {
  readonly disclosed: Disclosed;
  /** What to remember of the share; null for the surveyor, who sees everything anyway. */
  remember(madeAt: string): EarlierShare | null;
}

/**
 * What an audience may see, for a command that writes it. Throws `BadInput` with every leak that is not settled: one line
 * each, with its id, what it tells and what withholding would do. `words` are what is said beside the record.
 */
export function discloseFor(
  survey: Survey,
  findings: Findings,
  audience: Audience,
  settlePath: string | undefined,
  words: Readonly<Record<string, string | null>> = {},
): DisclosedFor {
  const settled = settlePath === undefined ? [] : settlementsIn(settlePath);
  if (audience === 'surveyor') return { disclosed: disclose(survey, findings, 'surveyor'), remember: () => null };
  const outcome = discloseTo(survey, findings, audience, { settled, earlier: earlierSharesOf(survey) });
  if (!outcome.ok) throw faultOf('site.discretion_classes', '', outcome.code, outcome.sentence);
  if (outcome.value.kind === 'disclosed') {
    const { disclosed, remember } = outcome.value;
    const spoken = wordsMayStand(survey, audience, settled, words);
    if (!spoken.ok) throw faultOf('arguments', '', spoken.code, spoken.sentence);
    return { disclosed, remember };
  }
  throw new BadInput([
    ...outcome.value.leaks.map(({ id, sentence, remedy }) =>
      printable(`share:${id}: read "${sentence}"; expected a decision in --settle. ${remedy}`),
    ),
    `Nothing was written. Settle each in a file for --settle: [{"leak": "ID", "decision": "withhold" | "accept", "why": "…"}].`,
  ]);
}

function settlementsIn(path: string): Settled[] {
  const json = jsonOf(path);
  const wrong = faultOf(path, '1', '', 'a list of {"leak", "decision": "withhold" | "accept", "why"}');
  if (!Array.isArray(json)) throw wrong;
  return json.map((row: unknown) => {
    const { leak, decision, why } = (row ?? {}) as Partial<Record<keyof Settled, unknown>>;
    if (typeof leak !== 'string' || (decision !== 'withhold' && decision !== 'accept')) throw wrong;
    return { leak, decision, why: typeof why === 'string' ? why : '' };
  });
}
