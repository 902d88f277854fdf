import { useMemo, useState } from 'react';
import '../../../../styles/keypad.css';
import { type FieldPlan, rememberedPlan, rememberPlan } from '../../field/field-plan';
import { fieldRecord } from '../../field/field-record';
import type { Content } from '../../state/app-state';
import { Keypad } from './Keypad';
import { SetupForm } from './SetupForm';

/** Readings taken in the field: set up once for a line, then digits. */
export function FieldMargin({ content, onTable }: { content: Content; onTable: () => void }) {
  const { survey } = content;
  const [plan, setPlan] = useState(() => rememberedPlan(survey.id));
  const [settingUp, setSettingUp] = useState(false);
  const record = useMemo(() => plan && fieldRecord(survey, plan), [survey, plan]);

  const begin = (next: FieldPlan) => {
    rememberPlan(survey.id, next);
    setPlan(next);
    setSettingUp(false);
  };
  if (!record || settingUp) return <SetupForm content={content} before={plan} onBegin={begin} onTable={onTable} />;
  return (
    <Keypad
      key={`${record.outing.id} ${record.line.id}`}
      content={content}
      record={record}
      onSetUp={() => setSettingUp(true)}
      onTable={onTable}
    />
  );
}
