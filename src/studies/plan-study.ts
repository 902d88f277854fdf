import type { Hookup } from '../survey/hookup';
import { done, type Outcome } from '../survey/outcome';
import { type PlannedReading, planReadings } from './plan';
import { type PlanAdvice, planSurvey } from './plan-advice';
import { type PlanTarget, shapeOf } from './plan-profile';
import type { Tick } from './study-key';

/** How a void would be looked for. */
export interface PlanStudyQuestion {
  readonly target: PlanTarget;
  readonly hookup: Hookup;
  /** Separation factor of dipole arrays; 1 for the others. */
  readonly n: number;
  /** Relative standard error of one reading, 0 to 1. */
  readonly noise: number;
  /** Spacings whose readings are told; null = those of the advice. */
  readonly spacingsM: readonly number[] | null;
  /** Midpoints whose readings are told, metres from the target along the line. */
  readonly offsetsM: readonly number[];
}

export interface PlanStudyAnswer {
  readonly advice: PlanAdvice;
  /** Spacings × offsets, offsets fastest. */
  readonly readings: readonly PlannedReading[];
}

/** Share of the work that is the advice. */
const ADVICE_SHARE = 0.7;

/**
 * The study `plan` of a void: how to look for it, and what would then be read. Pure; about a second.
 * Refusals: those of `planSurvey` and `planReadings`.
 */
export function planStudy(question: PlanStudyQuestion, tick: Tick = () => {}): Outcome<PlanStudyAnswer> {
  const { target, hookup, n, noise, spacingsM, offsetsM } = question;
  const advice = planSurvey(target, hookup, noise, n, (fraction) => tick(ADVICE_SHARE * fraction));
  if (!advice.ok) return advice;
  const readings = planReadings(
    {
      hookup,
      n,
      spacingsM: spacingsM ?? advice.value.spacings.map(({ spacingM }) => spacingM),
      offsetsM,
      ground: { ...target, kind: 'void', shape: shapeOf(target, target.radiusM) },
    },
    (fraction) => tick(ADVICE_SHARE + (1 - ADVICE_SHARE) * fraction),
  );
  return readings.ok ? done({ advice: advice.value, readings: readings.value }) : readings;
}
