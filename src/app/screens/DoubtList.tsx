import { useState } from 'react';
import type { Content } from '../state/app-state';
import { bySeverity, causeOf } from '../state/doubts-of';
import { indexOf } from '../state/index-of';
import { DoubtItem } from './DoubtItem';

const FIRST = 6;

/** Everything to be wary of, each a tap from its cause. */
export function DoubtList({ content, onSelect }: { content: Content; onSelect: (sid: string) => void }) {
  const [all, setAll] = useState(false);
  const index = indexOf(content);
  const doubts = bySeverity(content.findings.doubts);
  return (
    <section aria-labelledby="doubts-head">
      <h2 id="doubts-head">Doubts</h2>
      {doubts.length === 0 && <p>Nothing that this program knows to be wary of.</p>}
      <ul className="row-list">
        {doubts.slice(0, all ? doubts.length : FIRST).map((doubt) => {
          const sid = causeOf(doubt, index)?.midpointSid;
          return (
            <li key={doubt.id}>
              {sid ? (
                <button type="button" className="row-button" onClick={() => onSelect(sid)}>
                  <DoubtItem doubt={doubt} />
                </button>
              ) : (
                <DoubtItem doubt={doubt} />
              )}
            </li>
          );
        })}
      </ul>
      {!all && doubts.length > FIRST && (
        <button type="button" className="line-button" onClick={() => setAll(true)}>
          Show all {doubts.length}
        </button>
      )}
    </section>
  );
}
