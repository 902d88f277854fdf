import { useRef, useState } from 'react';
import type { LineId } from '../../../survey/ids';
import { addPathItem } from '../../../survey/path-edits';
import { metres } from '../../../survey/wording';
import { typedNumber } from '../../state/typed-value';
import { lengthWords } from '../../words/layout-words';
import { useGps } from '../layout/use-gps';
import { useEdit } from '../record/use-edit';
import { AveragingPanel } from './AveragingPanel';

/** A control of the line, taken where one stands: averaged, with its single fixes under it. */
export function TakeFix({ line, stationM }: { line: LineId; stationM: number }) {
  const edit = useEdit();
  const [typed, setTyped] = useState(String(Number(stationM.toFixed(3))));
  const [refused, setRefused] = useState<string | null>(null);
  const [said, setSaid] = useState('');
  const at = useRef(stationM);
  const gps = useGps(async (placed) => {
    const chainageM = at.current;
    const refusal = await edit((survey, author) =>
      addPathItem(survey, line, { kind: 'fix', chainage_m: chainageM, ...placed }, crypto.randomUUID(), author),
    );
    setRefused(refusal);
    const { accuracy_m: accuracyM } = placed.position;
    const count = placed.singles?.length ?? 1;
    if (refusal === null) {
      setSaid(
        `Taken at ${metres(chainageM)}: ${count === 1 ? '1 fix' : `${count} fixes`}${typeof accuracyM === 'number' ? `, good to ${lengthWords(accuracyM)}` : ''}. Undo takes it back.`,
      );
    }
  });
  const begin = () => {
    const chainage = typedNumber(typed);
    setSaid('');
    if (!chainage.ok) return setRefused(`At: ${chainage.sentence}`);
    at.current = chainage.value;
    setRefused(null);
    gps.start();
  };
  if (gps.averaging) return <AveragingPanel averaging={gps.averaging} onEnough={gps.enough} onStop={gps.stop} />;
  return (
    <div className="take-fix">
      <label>
        <span>At, m</span>
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
        />
      </label>
      <button type="button" className="line-button" onClick={begin}>
        Take a fix here
      </button>
      <p className="here-small" role="status">
        {said || 'Stand at that mark of the tape and keep still for half a minute.'}
      </p>
      {(gps.failure ?? refused) !== null && (
        <p className="refused" role="alert">
          {gps.failure ?? refused}
        </p>
      )}
    </div>
  );
}
