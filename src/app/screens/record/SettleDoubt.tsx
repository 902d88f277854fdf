import { useState } from 'react';
import type { Doubt } from '../../../survey/doubt';
import { settleDoubt } from '../../../survey/edits';
import type { Settlement } from '../../../survey/survey';
import { useAppState } from '../../app-context';
import { settlementsByDoubt } from '../../state/settlements';
import { ReasonForm } from './ReasonForm';
import { useEdit } from './use-edit';

const CHOICES: readonly { readonly decision: Settlement['decision']; readonly words: string }[] = [
  { decision: 'explained', words: 'Explained' },
  { decision: 'accepted', words: 'Accepted as it is' },
  { decision: 'rejected', words: 'Not a real doubt' },
];

/** A doubt that a person has looked into is settled with a decision and a reason; it stays listed. */
export function SettleDoubt({ doubt }: { doubt: Doubt }) {
  const edit = useEdit();
  const [open, setOpen] = useState(false);
  const [decision, setDecision] = useState<Settlement['decision']>('explained');
  const settled = useAppState(({ phase }) =>
    phase.kind === 'ready' ? settlementsByDoubt(phase.content.survey).has(doubt.id) : false,
  );
  const words = settled ? 'Settle again…' : 'Settle…';
  if (!open) {
    return (
      <button
        type="button"
        className="line-button"
        aria-label={`${words} ${doubt.sentence}`}
        onClick={() => setOpen(true)}
      >
        {words}
      </button>
    );
  }
  return (
    <ReasonForm
      label="Why?"
      action="Settle"
      onCancel={() => setOpen(false)}
      onReason={async (why) => {
        const refused = await edit((survey, author) => settleDoubt(survey, doubt.id, decision, why, author));
        if (refused === null) setOpen(false);
        return refused;
      }}
    >
      <fieldset className="decision">
        <legend className="unseen">Decision</legend>
        {CHOICES.map((choice) => (
          <label key={choice.decision} className="chip">
            <input
              type="radio"
              name={`decision ${doubt.id}`}
              checked={choice.decision === decision}
              onChange={() => setDecision(choice.decision)}
            />
            <span>{choice.words}</span>
          </label>
        ))}
      </fieldset>
    </ReasonForm>
  );
}
