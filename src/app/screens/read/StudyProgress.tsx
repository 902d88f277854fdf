/** How far a study is, and the way out of it. */
export function StudyProgress({ fraction, onCancel }: { fraction: number; onCancel: () => void }) {
  return (
    <div className="study-progress">
      <progress aria-label="Working it out" value={fraction} max={1} />
      <span aria-hidden="true">{Math.floor(100 * fraction)} %</span>
      <button type="button" className="line-button" onClick={onCancel}>
        Cancel
      </button>
    </div>
  );
}
