import { done, type Outcome } from '../../../survey/outcome';
import type { EvenLayout } from '../../../survey/path-checks';
import { typedNumber } from '../../state/typed-value';
import type { Said } from './AskForm';

/** Planned electrodes from what was typed. */
export function layoutSaid(said: Said): Outcome<EvenLayout> {
  const [from, to, step] = [typedNumber(said('from')), typedNumber(said('to')), typedNumber(said('step'))];
  if (!from.ok) return { ...from, sentence: `From: ${from.sentence}` };
  if (!to.ok) return { ...to, sentence: `To: ${to.sentence}` };
  if (!step.ok) return { ...step, sentence: `Electrode every: ${step.sentence}` };
  return done({ from_m: from.value, to_m: to.value, step_m: step.value });
}
