import type { FeatureFault } from '../../../exchange/read/karst-raw';
import { FAULT_WORDS } from '../../words/karst-words';

/** Sentences that are shown of each kind until more are asked for: a file may have thousands. */
const FIRST = 100;

/** Everything that is wrong or odd about a file, by kind, with how many. */
export function FaultGroups({ faults }: { faults: readonly FeatureFault[] }) {
  if (faults.length === 0) return <p className="quiet">Nothing in it is wrong or odd.</p>;
  return (
    <div className="karst-faults">
      <h3>What to look at</h3>
      {(Object.keys(FAULT_WORDS) as FeatureFault['code'][]).map((code) => {
        const own = faults.filter((fault) => fault.code === code);
        if (own.length === 0) return null;
        const leftOut = own.filter((fault) => fault.leftOut).length;
        return (
          <details key={code}>
            <summary>
              {FAULT_WORDS[code]}: {own.length}
              {leftOut === 0 ? ', kept' : leftOut === own.length ? ', left out' : `, ${leftOut} of them left out`}
            </summary>
            <ul className="plain-list">
              {own.slice(0, FIRST).map(({ sentence, row }, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: two rows may say the same
                <li key={`${row} ${i}`}>{sentence}</li>
              ))}
            </ul>
            {own.length > FIRST && <p className="quiet">And {own.length - FIRST} more of the same kind.</p>}
          </details>
        );
      })}
    </div>
  );
}
