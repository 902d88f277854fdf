export interface SaveRowProps {
  readonly name: string;
  readonly words: string;
  readonly onSave: () => void;
}

/** A file that can be had: its name and what is in it. */
export function SaveRow({ name, words, onSave }: SaveRowProps) {
  return (
    <li>
      <button type="button" className="row-button" onClick={onSave}>
        <span className="row-words">
          <span className="row-place">{name}</span>
          <span className="row-verdict">{words}</span>
        </span>
      </button>
    </li>
  );
}
