import { useEffect, useRef } from 'react';
import type { LineId } from '../../../survey/ids';
import { startLine } from '../../../survey/path-edits';
import { useEdit } from '../record/use-edit';
import { AskForm } from './AskForm';
import { Field } from './Field';
import { layoutSaid } from './layout-fields';
import { useWholeSheet } from './use-whole-sheet';

/** Begins a line: its name and where its electrodes will stand. How it is wired may be said later. */
export function NewLine({ onAdded, onCancel }: { onAdded: (id: LineId) => void; onCancel: () => void }) {
  const edit = useEdit();
  const place = useRef<HTMLDivElement>(null);

  useEffect(() => place.current?.querySelector('input')?.focus(), []);
  useWholeSheet();

  return (
    <div ref={place} className="boxed">
      <AskForm
        label="New line"
        action="Begin the line"
        onCancel={onCancel}
        onSaid={async (said) => {
          const layout = layoutSaid(said);
          if (!layout.ok) return layout.sentence;
          let added: LineId | undefined;
          const refused = await edit((survey, author) => {
            const change = startLine(survey, { name: said('name'), layout: layout.value }, crypto.randomUUID(), author);
            if (change.ok) added = change.value.put?.lines?.[0]?.id;
            return change;
          });
          if (refused === null && added) onAdded(added);
          return refused;
        }}
      >
        <Field name="name" words="Name" inputMode="text" />
        <div className="lay-fields">
          <Field name="from" words="From, m" begin="0" />
          <Field name="to" words="To, m" />
          <Field name="step" words="Electrode every, m" begin="1" />
        </div>
        <p className="quiet">How its readings are wired: not said yet. It is asked when readings come.</p>
      </AskForm>
    </div>
  );
}
