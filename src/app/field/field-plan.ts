import type { LineId, OutingId, SurveyId } from '../../survey/ids';
import { remember, remembered } from '../remembered';
import type { Round } from './round';

/** What is being recorded: whose day, which line, and in which order. The readings themselves say where it has come to. */
export interface FieldPlan extends Round {
  readonly outing: OutingId;
  readonly line: LineId;
  /** Separation factor of dipoles, and MN of a Schlumberger reading, where the hookup has one. */
  readonly n: number | null;
  readonly innerSpacingM: number | null;
  /** A rod that is needed again at the next spot stays in the ground. */
  readonly leapfrog: boolean;
  /** Spots that were read on other days come up once more: the line after rain, or after works. */
  readonly again: boolean;
  /** Chainages that no rod goes beyond: spots that would need it are left out. Null = no such end. */
  readonly rodsFromM: number | null;
  readonly rodsToM: number | null;
}

/** The plan that this device remembers of a survey; null where there is none, or none that can be read. */
export function rememberedPlan(survey: SurveyId): FieldPlan | null {
  const text = remembered(`field.${survey}`);
  if (text === null) return null;
  try {
    return planFrom(JSON.parse(text));
  } catch {
    return null;
  }
}

export function rememberPlan(survey: SurveyId, plan: FieldPlan): void {
  remember(`field.${survey}`, JSON.stringify(plan));
}

/** Null for anything that is not a plan: what a device remembers may be of another version, or cut off. */
export function planFrom(said: unknown): FieldPlan | null {
  if (typeof said !== 'object' || said === null) return null;
  const { outing, line, order, stationsM, spacingsM, n, innerSpacingM, leapfrog, again, rodsFromM, rodsToM } =
    said as Record<string, unknown>;
  if (typeof outing !== 'string' || typeof line !== 'string') return null;
  if (order !== 'ladder' && order !== 'traverse') return null;
  if (!isNumbers(stationsM) || !isNumbers(spacingsM) || spacingsM.some((spacing) => spacing <= 0)) return null;
  return {
    outing: outing as OutingId,
    line: line as LineId,
    order,
    stationsM,
    spacingsM,
    n: typeof n === 'number' ? n : null,
    innerSpacingM: typeof innerSpacingM === 'number' ? innerSpacingM : null,
    leapfrog: leapfrog === true,
    again: again === true,
    rodsFromM: typeof rodsFromM === 'number' ? rodsFromM : null,
    rodsToM: typeof rodsToM === 'number' ? rodsToM : null,
  };
}

const isNumbers = (said: unknown): said is readonly number[] =>
  Array.isArray(said) && said.length > 0 && said.every((each) => Number.isFinite(each));
