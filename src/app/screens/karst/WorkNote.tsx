import type { KarstWork } from './use-karst-work';

/** How far a question is, with a way to leave it; or why there is no answer. */
export function WorkNote({ state, what, onCancel }: { state: KarstWork<unknown>; what: string; onCancel: () => void }) {
  if (state.kind === 'failed') return <p role="alert">{state.sentence}</p>;
  if (state.kind !== 'working') return null;
  return (
    <div className="karst-work" role="status">
      <span>{what}…</span>
      <progress aria-label={what} max={1} {...(state.fraction === null ? {} : { value: state.fraction })} />
      <button type="button" className="line-button" onClick={onCancel}>
        Stop
      </button>
    </div>
  );
}
