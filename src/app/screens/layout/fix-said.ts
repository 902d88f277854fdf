import { done, type Outcome } from '../../../survey/outcome';
import type { NewPathItem } from '../../../survey/path-checks';
import type { Fix, PathItem } from '../../../survey/survey';
import { typedNumber } from '../../state/typed-value';
import type { Said } from './AskForm';

/** The chainage that was typed. */
export function chainageSaid(said: Said): Outcome<number> {
  const chainage = typedNumber(said('chainage'));
  return chainage.ok ? chainage : { ...chainage, sentence: `At: ${chainage.sentence}` };
}

/** A placed point from what was said of it and a place that came otherwise. */
export function fixSaid(said: Said, place: Pick<Fix, 'position' | 'singles'>): Outcome<NewPathItem> {
  const chainage = chainageSaid(said);
  if (!chainage.ok) return chainage;
  const corner = said('corner') === 'on';
  return done({ kind: 'fix', chainage_m: chainage.value, ...place, ...(corner ? { corner } : {}) });
}

export const isCorner = (item: PathItem | null): boolean => item?.kind === 'fix' && item.corner === true;
