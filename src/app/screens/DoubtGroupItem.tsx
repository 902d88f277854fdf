import { DOUBT_WORDS, SEVERITY_WORDS } from '../../survey/doubt-words';
import type { DoubtGroup } from '../state/doubt-groups';
import { causeOf } from '../state/doubts-of';
import type { ReadingIndex } from '../state/reading-index';
import { DoubtItem } from './DoubtItem';

export interface DoubtGroupProps {
  readonly group: DoubtGroup;
  readonly index: ReadingIndex;
  readonly onSelect: (sid: string) => void;
}

/** Doubts of a kind under their name and number; what is serious lies open. */
export function DoubtGroupItem({ group, index, onSelect }: DoubtGroupProps) {
  const { code, doubts, severity, settled } = group;
  return (
    <details className="doubt-group" open={severity === 'serious'}>
      <summary>
        {DOUBT_WORDS[code]}, {doubts.length}{' '}
        <span className="doubt-severity" data-severity={severity ?? 'settled'}>
          {[severity && SEVERITY_WORDS[severity], settled > 0 && `${settled} settled`].filter(Boolean).join(', ')}
        </span>
      </summary>
      <ul className="row-list">
        {doubts.map((doubt) => {
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
    </details>
  );
}
