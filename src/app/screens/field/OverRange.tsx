import { BEFORE_EVERY_TOUCH, type OnPath, type OverRangeStep, REFERENCE_ALIKE } from '../../field/over-range-path';
import { typedNumber } from '../../state/typed-value';

export interface OverRangeProps {
  readonly steps: readonly OverRangeStep[];
  readonly path: OnPath;
  readonly saltAllowed: boolean;
  /** "> 20000 Ω·m", or null where the meter's limit was not said. */
  readonly aboveWords: string | null;
  readonly drivenDepthM: number | null;
  readonly onDepth: (depthM: number | null) => void;
  readonly onSkip: () => void;
  readonly onLeave: () => void;
}

/** What to try, one thing at a time, when the meter runs over range. Every attempt is kept. */
export function OverRange({
  steps,
  path,
  saltAllowed,
  aboveWords,
  drivenDepthM,
  onDepth,
  onSkip,
  onLeave,
}: OverRangeProps) {
  const step = steps[path.step];
  if (!step) {
    return (
      <section className="over-range" aria-label="Over range">
        <h2>Kept as over range</h2>
        <p>
          {path.done.length === steps.length && 'All that is allowed was tried. '}It stays in the record as “
          {aboveWords ?? 'over range'}”: above the limit, never the limit itself.{' '}
          {!saltAllowed && 'Salt water was left out: nobody has said that it is allowed here.'}
        </p>
        <p>{REFERENCE_ALIKE}</p>
        <button type="button" className="line-button strong-button" onClick={onLeave}>
          Go on
        </button>
      </section>
    );
  }
  return (
    <section className="over-range" aria-label="Over range">
      <h2>
        Over range {path.step + 1}/{steps.length}: {step.title}
      </h2>
      <p className="touch-first">{BEFORE_EVERY_TOUCH}</p>
      <p>{step.doThis}</p>
      {step.name === 'deeper' && (
        <label className="depth-field">
          <span>Driven depth, m</span>
          <input
            type="text"
            inputMode="decimal"
            autoComplete="off"
            defaultValue={drivenDepthM ?? ''}
            onChange={(event) => {
              const depth = typedNumber(event.target.value);
              onDepth(depth.ok && depth.value > 0 ? depth.value : null);
            }}
          />
        </label>
      )}
      {step.alike && <p>{REFERENCE_ALIKE}</p>}
      <p className="quiet">Type what it shows and keep it, or tap “Still over”.</p>
      <div className="try-row">
        <button type="button" className="line-button" onClick={onSkip}>
          Leave this step out
        </button>
        <button type="button" className="line-button" onClick={onLeave}>
          Keep it as over range
        </button>
      </div>
    </section>
  );
}
