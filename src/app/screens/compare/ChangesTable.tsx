import { useMemo, useState } from 'react';
import type { MatchedReading } from '../../../studies/compare';
import { counted, metres, ratioText } from '../../../survey/wording';
import { bySurety, changeText, REASON_WORDS, VERDICT_SHORT } from '../../compare/change-words';
import { lineWords } from '../../words/line-words';

const PAGE = 20;

/** Readings beside their counterparts, the surest change first, a page at a time; each leads to its card. */
export function ChangesTable({
  matched,
  onSelect,
}: {
  matched: readonly MatchedReading[];
  onSelect: (sid: string) => void;
}) {
  const [page, setPage] = useState(0);
  const sorted = useMemo(() => bySurety(matched), [matched]);
  const pages = Math.max(1, Math.ceil(sorted.length / PAGE));
  const at = Math.min(page, pages - 1);
  const [from, to] = [at * PAGE, Math.min(sorted.length, (at + 1) * PAGE)];
  return (
    <>
      <h3>Reading by reading</h3>
      <p role="status" className="quiet">
        {counted(sorted.length, 'reading')}, the surest change first
        {pages > 1 ? `; ${from + 1} to ${to} shown` : ''}. Before and after are ratios to the reference of their time.
      </p>
      <table className="changes">
        <thead>
          <tr>
            <th scope="col">
              Place, <span className="piece">spacing</span>
            </th>
            <th scope="col">Before</th>
            <th scope="col">After</th>
            <th scope="col">Change</th>
          </tr>
        </thead>
        <tbody>
          {sorted.slice(from, to).map((reading) => (
            <ChangeRow key={reading.key} reading={reading} onSelect={onSelect} />
          ))}
        </tbody>
      </table>
      {pages > 1 && (
        <p className="change-pages">
          <button type="button" className="line-button" disabled={at === 0} onClick={() => setPage(at - 1)}>
            Previous page
          </button>
          <button type="button" className="line-button" disabled={at === pages - 1} onClick={() => setPage(at + 1)}>
            Next page
          </button>
        </p>
      )}
    </>
  );
}

function ChangeRow({ reading, onSelect }: { reading: MatchedReading; onSelect: (sid: string) => void }) {
  const { key, line, chainageM, spacingM, ratioBefore, ratioAfter, verdict, reason } = reading;
  return (
    <tr data-verdict={verdict}>
      <th scope="row">
        <button type="button" className="cell-button" onClick={() => onSelect(key)}>
          {lineWords(line)}, {metres(chainageM)}
        </button>
        <span className="change-spacing">spacing {metres(spacingM)}</span>
      </th>
      <td>{ratioBefore === null ? '–' : ratioText(ratioBefore)}</td>
      <td>{ratioAfter === null ? '–' : ratioText(ratioAfter)}</td>
      <td>
        <span className="change-value">{changeText(reading)}</span>
        <span className="change-verdict">{reason ? REASON_WORDS[reason] : VERDICT_SHORT[verdict]}</span>
      </td>
    </tr>
  );
}
