import { StudyProgress } from './StudyProgress';
import type { StudyOf } from './use-study-of';

export interface StudyAskProps {
  readonly work: StudyOf<unknown>;
  /** On the button. */
  readonly action: string;
  /** What it gives and how long it takes. */
  readonly words: string;
}

/** Asks for a study, shows how far it is, and takes no for an answer. Nothing once it is done. */
export function StudyAsk({ work: { state, begin, cancel }, action, words }: StudyAskProps) {
  switch (state.kind) {
    case 'not_asked':
      return (
        <>
          <p className="quiet">{words}</p>
          <button type="button" className="line-button" onClick={begin}>
            {action}
          </button>
        </>
      );
    case 'working':
      return <StudyProgress fraction={state.fraction} onCancel={cancel} />;
    case 'failed':
      return (
        <>
          <p role="alert">{state.sentence}</p>
          <button type="button" className="line-button" onClick={begin}>
            Try again
          </button>
        </>
      );
    case 'done':
      return null;
  }
}
