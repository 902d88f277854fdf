import type { Content } from '../state/app-state';
import { doubtGroups } from '../state/doubt-groups';
import { indexOf } from '../state/index-of';
import { settlementsByDoubt } from '../state/settlements';
import { DoubtGroupItem } from './DoubtGroupItem';

/** Everything to be wary of, by kind and counted; each doubt a tap from its cause. */
export function DoubtList({ content, onSelect }: { content: Content; onSelect: (sid: string) => void }) {
  const index = indexOf(content);
  const groups = doubtGroups(content.findings.doubts, settlementsByDoubt(content.survey));
  return (
    <section aria-labelledby="doubts-head">
      <h2 id="doubts-head">Doubts</h2>
      {groups.length === 0 && <p>No doubts found. That is not proof that there are none.</p>}
      <ul className="row-list">
        {groups.map((group) => (
          <li key={group.code}>
            <DoubtGroupItem group={group} index={index} onSelect={onSelect} />
          </li>
        ))}
      </ul>
    </section>
  );
}
