import { useId, useState } from 'react';
import type { LineId } from '../../../survey/ids';
import type { Content } from '../../state/app-state';
import { lineWords } from '../../words/line-words';
import { SearchSays } from './SearchSays';
import { SectionSays } from './SectionSays';

export interface LineSaysProps {
  readonly content: Content;
  /** The line of what is open; null = a line is chosen here. */
  readonly openLine: LineId | null;
  readonly onSelect: (sid: string) => void;
}

/** The slow questions that take a whole line: the ground under it, and a void under it. */
export function LineSays({ content, openLine, onSelect }: LineSaysProps) {
  const [chosen, setChosen] = useState<LineId | null>(null);
  const id = useId();
  const { lines } = content.findings;
  const line = lines.find(({ lineId }) => lineId === (openLine ?? chosen)) ?? lines[0];
  if (!line) return null;
  return (
    <section className="line-says" aria-labelledby={id}>
      <h2 id={id}>What the whole line can say</h2>
      {openLine === null ? (
        <div className="line-choice">
          <label htmlFor={`${id}-line`}>Line</label>
          <select id={`${id}-line`} value={line.lineId} onChange={(event) => setChosen(event.target.value as LineId)}>
            {lines.map(({ lineId, name }) => (
              <option key={lineId} value={lineId}>
                {lineWords(name)}
              </option>
            ))}
          </select>
        </div>
      ) : (
        <p>{lineWords(line.name)}</p>
      )}
      <SectionSays key={`section:${line.lineId}`} content={content} lineId={line.lineId} />
      <SearchSays key={`search:${line.lineId}`} content={content} line={line} onSelect={onSelect} />
    </section>
  );
}
