import { useState } from 'react';
import { rejectReading, restoreReading } from '../../../survey/edits';
import { shownAs } from '../../../survey/shown';
import type { Reading } from '../../../survey/survey';
import { ReasonForm } from './ReasonForm';
import { useEdit } from './use-edit';

/** Leaves a reading out of the figures with a reason, or takes it in again. Its value is named where there are repeats. */
export function ReadingActions({ reading, named }: { reading: Reading; named: boolean }) {
  const edit = useEdit();
  const [asking, setAsking] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);
  const which = named ? ` ${shownAs({ ...reading, status: reading.value === null ? 'over_range' : 'ok' })}` : '';

  if (reading.status === 'rejected') {
    return (
      <>
        <button
          type="button"
          className="line-button"
          onClick={() => void edit((survey, author) => restoreReading(survey, reading.id, author)).then(setRefused)}
        >
          Restore{which}
        </button>
        {refused !== null && (
          <p className="refused" role="alert">
            {refused}
          </p>
        )}
      </>
    );
  }
  if (!asking) {
    return (
      <button type="button" className="line-button" onClick={() => setAsking(true)}>
        Reject{which}…
      </button>
    );
  }
  return (
    <ReasonForm
      label={`Why is the reading${which} rejected?`}
      action="Reject"
      onCancel={() => setAsking(false)}
      onReason={async (reason) => {
        const sentence = await edit((survey, author) => rejectReading(survey, reading.id, reason, author));
        if (sentence === null) setAsking(false);
        return sentence;
      }}
    />
  );
}
