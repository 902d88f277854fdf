import type { Findings } from '../findings';
import type { Survey } from '../survey/survey';
import type { Audience } from './audience';

/** Something that a share does not hold, or holds less exactly, and why. Never says which. */
export interface Withheld {
  readonly subject:
    | 'feature'
    | 'line'
    | 'reading'
    | 'zone'
    | 'next_reading'
    | 'reference'
    | 'surrounding'
    | 'photo'
    | 'note'
    | 'name'
    | 'time'
    | 'person'
    | 'remote'
    | 'doubt';
  readonly count: number;
  /** `accepted`: it is in the share, though somebody was warned that it may tell; the reason is theirs. */
  readonly how: 'withheld' | 'generalised' | 'accepted';
  /** Side of the squares that places are shown by, m; null where nothing is shown. */
  readonly gridM: number | null;
  /** The class or rule that decided. */
  readonly rule: string;
  readonly reason: string;
}

declare const disclosed: unique symbol;

/** What an audience may see. Writers take nothing else, so that nothing can be written past this room. */
export interface Disclosed {
  readonly audience: Audience;
  readonly survey: Survey;
  readonly findings: Findings;
  readonly withheld: readonly Withheld[];
  readonly [disclosed]: true;
}

/** The survey and its findings as the surveyor sees them: whole and exact. For others there is `discloseTo`. */
export function disclose(survey: Survey, findings: Findings, audience: 'surveyor'): Disclosed {
  return asDisclosed(audience, survey, findings, []);
}

/** The one place where the pledge is given. Only this room calls it. */
export function asDisclosed(
  audience: Audience,
  survey: Survey,
  findings: Findings,
  withheld: readonly Withheld[],
): Disclosed {
  return { audience, survey, findings, withheld } as unknown as Disclosed;
}
