import { type FormEvent, useState } from 'react';
import type { Hookup } from '../../../survey/hookup';
import type { LineId } from '../../../survey/ids';
import { done } from '../../../survey/outcome';
import { useApp } from '../../app-context';
import { edit, mayWrite } from '../../edit';
import type { FieldPlan } from '../../field/field-plan';
import { readingsOn } from '../../field/field-record';
import { placeText, type RemoteEntry, remoteRolesOf, remotesSaid } from '../../field/remotes-said';
import { type SaidInForm, saidInForm } from '../../field/setup';
import { suggestedSpacings, suggestedStations } from '../../field/suggestions';
import type { Content } from '../../state/app-state';
import { Cautions } from '../Cautions';
import { HookupChoice } from './HookupChoice';
import { OutingFields } from './OutingFields';
import { PageVersion } from './PageVersion';
import { RemoteFields } from './RemoteFields';
import { RoundFields } from './RoundFields';

export interface SetupFormProps {
  readonly content: Content;
  /** What was recorded before on this device. */
  readonly before: FieldPlan | null;
  readonly onBegin: (plan: FieldPlan) => void;
  readonly onTable: () => void;
}

const NEW = '';

/** Said once for a day and a line, so that a reading needs nothing but its digits. */
export function SetupForm({ content, before, onBegin, onTable }: SetupFormProps) {
  const parts = useApp();
  const { survey } = content;
  const outings = survey.outings.filter(({ retired }) => !retired);
  const lines = survey.lines.filter(({ retired }) => !retired);
  const [outingId, setOutingId] = useState<string>(() => outings.find(({ id }) => id === before?.outing)?.id ?? NEW);
  const outing = outings.find(({ id }) => id === outingId) ?? null;
  const [hookup, setHookup] = useState<Hookup | null>(outing?.hookup ?? null);
  const [lineId, setLineId] = useState<LineId | undefined>(
    () => lines.find(({ id }) => id === before?.line)?.id ?? lines[0]?.id,
  );
  const [refused, setRefused] = useState<string | null>(null);
  const [typedRemotes, setTypedRemotes] = useState<readonly RemoteEntry[]>([]);
  const remoteEntries = remoteRolesOf(hookup).map((role): RemoteEntry => {
    const position = outing?.remotes.find((remote) => remote.role === role)?.position ?? null;
    const typed = typedRemotes.find((entry) => entry.role === role);
    return typed ?? { role, text: position ? placeText(position) : '', position };
  });
  const corner = content.findings.lines[0]?.track[0];
  const hints = { near: corner ? { lon: corner.lon, lat: corner.lat } : null, grids: survey.site.local_grids };

  const chooseOuting = (id: string) => {
    setOutingId(id);
    setTypedRemotes([]);
    setHookup(outings.find((other) => other.id === id)?.hookup ?? null);
  };
  const begin = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const fields = new FormData(event.currentTarget);
    const text = (name: string) => String(fields.get(name) ?? '');
    const remotes = remotesSaid(remoteEntries, outing?.remotes ?? [], hints);
    if (!remotes.ok) return setRefused(remotes.sentence);
    const said = saidInForm(text, { outing, hookup, line: lineId ?? null, remotes: remotes.value });
    if (!said.ok) return setRefused(said.sentence);
    const plan = keepOuting(said.value);
    if (plan) onBegin(plan);
  };
  /** The outing is in the record before its first reading; the plan is only this device's. */
  const keepOuting = ({ changeFor, planFor }: SaidInForm): FieldPlan | null => {
    let plan: FieldPlan | null = null;
    const may = mayWrite(parts);
    if (!may.ok) {
      setRefused(may.sentence);
      return null;
    }
    void edit(parts, (open, author) => {
      const change = changeFor(open, crypto.randomUUID(), author);
      if (!change.ok) {
        setRefused(change.sentence);
        return change;
      }
      plan = planFor(change.value.put?.outings?.[0]?.id ?? null);
      return done(change.value);
    });
    return plan;
  };

  if (lines.length === 0) {
    return (
      <div className="field-setup">
        <p>There is no line yet. Lay one out first; readings belong to a line.</p>
      </div>
    );
  }
  const sameLine = before?.line === lineId ? before : null;
  const line = lines.find(({ id }) => id === lineId);
  const otherDays =
    line && hookup ? readingsOn(survey, line, hookup).filter((reading) => reading.outing !== outing?.id).length : 0;
  return (
    <form className="field-setup" aria-label="Set up the recording" onSubmit={begin}>
      <div className="field-setup-top">
        <h2>Record in the field</h2>
        <button type="button" className="line-button" onClick={onTable}>
          Table
        </button>
      </div>
      <Cautions />
      <section>
        <h2>The day</h2>
        <label className="field-line">
          <span>Outing</span>
          <select value={outingId} onChange={(event) => chooseOuting(event.target.value)}>
            <option value={NEW}>a new one</option>
            {outings.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <HookupChoice key={`hookup ${outingId}`} hookup={hookup} onHookup={setHookup} />
        <RemoteFields
          entries={remoteEntries}
          hints={hints}
          onEntry={(entry) => setTypedRemotes((before) => [...before.filter(({ role }) => role !== entry.role), entry])}
        />
        <OutingFields key={outingId} outing={outing} />
      </section>
      <section>
        <h2>The line</h2>
        <label className="field-line">
          <span>Line</span>
          <select value={lineId} onChange={(event) => setLineId(event.target.value as LineId)}>
            {lines.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <RoundFields
          key={`${lineId} ${hookup}`}
          otherDays={otherDays}
          hookup={hookup}
          before={sameLine}
          stations={lineId ? suggestedStations(survey, lineId) : null}
          spacings={sameLine?.spacingsM ?? suggestedSpacings(survey, hookup)}
        />
      </section>
      {refused !== null && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
      <button type="submit" className="line-button strong-button begin-button">
        Begin
      </button>
      <PageVersion />
    </form>
  );
}
