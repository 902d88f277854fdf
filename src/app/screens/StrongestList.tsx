import { useState } from 'react';
import { useAppState } from '../app-context';
import type { Content } from '../state/app-state';
import { indexOf } from '../state/index-of';
import { strongestFirst } from '../state/strongest';
import { useTheme } from '../theme';
import { ReadingButton } from './ReadingButton';

const FIRST = 8;
/** More than this is no list for a person; the table of readings is for that. */
const MOST = 200;

/** The map in words: where the readings differ most, each a way to its place on the map. */
export function StrongestList({ content, onSelect }: { content: Content; onSelect: (sid: string) => void }) {
  const theme = useTheme(useAppState((state) => state.theme));
  const [all, setAll] = useState(false);
  const { entries } = indexOf(content);
  const graded = strongestFirst(entries);
  return (
    <section aria-labelledby="strongest-head">
      <h2 id="strongest-head">Strongest differences</h2>
      {graded.length === 0 && (
        <p>
          {entries.some(({ finding }) => finding.ratio !== null)
            ? 'No reading differs from its reference by more than its scatter explains.'
            : 'No reading has a reference to be compared with.'}
        </p>
      )}
      <ol className="row-list">
        {graded.slice(0, all ? MOST : FIRST).map((entry) => (
          <li key={`${entry.line.lineId} ${entry.finding.key}`}>
            <ReadingButton entry={entry} theme={theme} onSelect={onSelect} />
          </li>
        ))}
      </ol>
      {!all && graded.length > FIRST && (
        <button type="button" className="line-button" onClick={() => setAll(true)}>
          Show {graded.length > MOST ? `the strongest ${MOST}` : `all ${graded.length}`}
        </button>
      )}
    </section>
  );
}
