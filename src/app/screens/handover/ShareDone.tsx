import { counted } from '../../../survey/wording';
import type { ShareAnswer } from '../../../workers/share-table';

type Pack = Extract<ShareAnswer, { kind: 'pack' }>;

/** A pack that was made: what is in it, what is not, and its saving. */
export function ShareDone({
  pack,
  onSavePack,
  onSavePage,
}: {
  pack: Pack;
  onSavePack: () => void;
  onSavePage: () => void;
}) {
  const largest = [...pack.files].sort((p, q) => q.bytes - p.bytes);
  return (
    <div className="share-done">
      <p>
        {counted(pack.files.length, 'file')}, {Math.ceil(pack.zip.length / 1000)} kB zipped.
      </p>
      <div className="share-buttons">
        <button type="button" className="line-button strong-button" onClick={onSavePack}>
          Save the pack
        </button>
        <button type="button" className="line-button" onClick={onSavePage}>
          Save the page alone
        </button>
      </div>
      <h3>Left out, and why</h3>
      <ul className="plain-list">
        {pack.withheld.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <details>
        <summary>What is in it</summary>
        <ul className="plain-list">
          {largest.map(({ name, bytes }) => (
            <li key={name}>
              {name}, {Math.max(1, Math.round(bytes / 1000))} kB
            </li>
          ))}
        </ul>
      </details>
    </div>
  );
}
