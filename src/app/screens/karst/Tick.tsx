/** One thing to say yes or no to, wide enough for a glove. */
export function Tick({ words, on, onTurn }: { words: string; on: boolean; onTurn: (on: boolean) => void }) {
  return (
    <label className="karst-tick">
      <input type="checkbox" checked={on} onChange={(event) => onTurn(event.target.checked)} />
      <span>{words}</span>
    </label>
  );
}
