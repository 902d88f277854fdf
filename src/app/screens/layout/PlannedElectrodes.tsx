import { useState } from 'react';
import { setLayout } from '../../../survey/path-edits';
import type { Line } from '../../../survey/survey';
import { metres } from '../../../survey/wording';
import { useEdit } from '../record/use-edit';
import { AskForm } from './AskForm';
import { Field } from './Field';
import { layoutSaid } from './layout-fields';

/** What is planned, as a sentence. */
function planWords({ layout }: Line): string {
  if (!layout) return 'None planned.';
  if ('from_m' in layout) {
    return `Planned from ${metres(layout.from_m)} to ${metres(layout.to_m)}, one every ${metres(layout.step_m)}.`;
  }
  return `${layout.chainages_m.length} planned, at chainages of their own.`;
}

/** Where electrodes are to stand along the tape. */
export function PlannedElectrodes({ line }: { line: Line }) {
  const edit = useEdit();
  const [asking, setAsking] = useState(false);
  const even = line.layout && 'from_m' in line.layout ? line.layout : null;
  return (
    <>
      <p>{planWords(line)}</p>
      {asking ? (
        <div className="boxed">
          <AskForm
            label="Planned electrodes"
            action="Plan them"
            onCancel={() => setAsking(false)}
            onSaid={async (said) => {
              const layout = layoutSaid(said);
              if (!layout.ok) return layout.sentence;
              const refused = await edit((survey, author) => setLayout(survey, line.id, layout.value, author));
              if (refused === null) setAsking(false);
              return refused;
            }}
          >
            <div className="lay-fields">
              <Field name="from" words="From, m" begin={String(even?.from_m ?? 0)} />
              <Field name="to" words="To, m" begin={even ? String(even.to_m) : ''} />
              <Field name="step" words="Electrode every, m" begin={String(even?.step_m ?? 1)} />
            </div>
          </AskForm>
        </div>
      ) : (
        <button type="button" className="line-button" onClick={() => setAsking(true)}>
          Plan electrodes
        </button>
      )}
    </>
  );
}
