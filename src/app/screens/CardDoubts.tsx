import type { Doubt } from '../../survey/doubt';
import { DoubtItem } from './DoubtItem';
import { SettleDoubt } from './record/SettleDoubt';

/** Doubts that touch the thing on a card; each can be settled where it is read. */
export function CardDoubts({ doubts }: { doubts: readonly Doubt[] }) {
  if (doubts.length === 0) return null;
  return (
    <ul className="card-doubts" aria-label="Doubts">
      {doubts.map((doubt) => (
        <li key={doubt.id}>
          <DoubtItem doubt={doubt} />
          <SettleDoubt doubt={doubt} />
        </li>
      ))}
    </ul>
  );
}
