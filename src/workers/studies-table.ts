import { createVoidTable, type VoidTable } from '../ground/void-table';
import { type PlanStudyAnswer, type PlanStudyQuestion, planStudy } from '../studies/plan-study';
import { type SectionResult, section } from '../studies/section';
import type { SectionInput } from '../studies/section-input';
import { type SoundingResult, sounding } from '../studies/sounding';
import type { SoundingInput } from '../studies/sounding-input';
import type { Tick } from '../studies/study-key';
import { voidSearch } from '../studies/void-search';
import type { VoidSearchResult } from '../studies/void-search-answer';
import type { VoidSearchInput } from '../studies/void-search-question';
import type { Outcome } from '../survey/outcome';
import type { CompareAnswer, CompareQuestion } from './compare-earlier';

/** The slow questions that the studies worker can be asked. Plain data in, plain data out, but for the ear of progress. */
export interface StudiesTable {
  sounding(input: SoundingInput, tick: Tick): SoundingResult;
  plan(question: PlanStudyQuestion, tick: Tick): Outcome<PlanStudyAnswer>;
  section(input: SectionInput, tick: Tick): Outcome<SectionResult>;
  voidSearch(input: VoidSearchInput, tick: Tick): Outcome<VoidSearchResult>;
  compare(question: CompareQuestion, tick: Tick): Promise<Outcome<CompareAnswer>>;
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
    plan: planStudy,
    section,
    voidSearch: (input, tick) => voidSearch(input, tableOf, tick),
    // It brings the readers of files along, which no other study needs.
    compare: async (question, tick) => (await import('./compare-earlier')).compareWithEarlier(question, tick),
  };
}
