import { createVoidTable, type VoidTable } from '../ground/void-table';
import { type PlanAdvice, type PlanTarget, planSurvey } from '../studies/plan-advice';
import { type SoundingResult, sounding } from '../studies/sounding';
import type { SoundingInput } from '../studies/sounding-input';
import type { Tick } from '../studies/study-key';
import type { Hookup } from '../survey/hookup';
import type { Outcome } from '../survey/outcome';

/** The slow questions that the studies worker can be asked. Plain data in, plain data out, but for the ear of progress. */
export interface StudiesTable {
  sounding(input: SoundingInput, tick: Tick): SoundingResult;
  plan(target: PlanTarget, hookup: Hookup, noise: number): Outcome<PlanAdvice>;
}

/** What takes long to make, and serves every question alike, is made once. */
export function createStudiesTable(): StudiesTable {
  let kept: VoidTable | null = null;
  const tableOf = (tick: Tick): VoidTable => {
    kept ??= createVoidTable(tick);
    return kept;
  };
  return {
    sounding: (input, tick) => sounding(input, tableOf, tick),
    plan: planSurvey,
  };
}
