import type { SqlJsStatic } from 'sql.js';
import type { Audience } from '../discretion/audience';
import { type Disclosed, disclose } from '../discretion/disclose';
import { discloseTo, type Settled } from '../discretion/disclose-to';
import { type EarlierShare, earlierSharesOf } from '../discretion/earlier-share';
import type { Leak } from '../discretion/leak';
import { wordsMayStand } from '../discretion/terms-tell';
import type { Findings } from '../findings';
import { packFiles, zipped } from '../handover/pack';
import type { ShareTerms } from '../handover/terms';
import { withheldSentences } from '../handover/withheld-words';
import type { Tick } from '../studies/study-key';
import type { Survey } from '../survey/survey';

export interface ShareQuestion {
  readonly survey: Survey;
  readonly findings: Findings;
  readonly audience: Audience;
  readonly settled: readonly Settled[];
  readonly terms: ShareTerms;
}

export type ShareAnswer =
  /** What has to be settled first. */
  | { readonly kind: 'leaks'; readonly leaks: readonly Leak[] }
  | { readonly kind: 'refused'; readonly sentence: string }
  | {
      readonly kind: 'pack';
      readonly zip: Uint8Array<ArrayBuffer>;
      /** The page for planners alone, which opens by itself. */
      readonly page: string;
      readonly files: readonly { readonly name: string; readonly bytes: number }[];
      readonly withheld: readonly string[];
      /** To be remembered with the survey; null for the surveyor's own copy. */
      readonly remembered: EarlierShare | null;
    };

/** Makes the pack of a survey for an audience, or says what stands in the way. */
export async function makeShare(
  { survey, findings, audience, settled, terms }: ShareQuestion,
  sql: SqlJsStatic,
  tick: Tick,
): Promise<ShareAnswer> {
  let disclosed: Disclosed;
  let remembered: EarlierShare | null = null;
  if (audience === 'surveyor') disclosed = disclose(survey, findings, audience);
  else {
    const outcome = discloseTo(survey, findings, audience, { settled, earlier: earlierSharesOf(survey) });
    if (!outcome.ok) return { kind: 'refused', sentence: outcome.sentence };
    if (outcome.value.kind === 'leaks') return outcome.value;
    const { contact, licence, title } = terms;
    const words = wordsMayStand(survey, audience, settled, { title, contact, licence });
    if (!words.ok) return { kind: 'refused', sentence: words.sentence };
    ({ disclosed } = outcome.value);
    remembered = outcome.value.remember(terms.madeAt);
  }
  const files = await packFiles(disclosed, terms, { sql, tick: (fraction) => tick(0.9 * fraction) });
  if (!files.ok) return { kind: 'refused', sentence: files.sentence };
  const zip = zipped(files.value);
  tick(1);
  const page = files.value.find(({ name }) => name === 'page.html');
  return {
    kind: 'pack',
    zip: zip as Uint8Array<ArrayBuffer>,
    page: page ? new TextDecoder().decode(page.bytes) : '',
    files: files.value.map(({ name, bytes }) => ({ name, bytes: bytes.length })),
    withheld: withheldSentences(disclosed),
    remembered,
  };
}
