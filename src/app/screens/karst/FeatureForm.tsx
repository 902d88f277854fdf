import { type FormEvent, useState } from 'react';
import { correctFeature } from '../../../karst/feature-edits';
import { STATUS_WORDS, typeWords } from '../../../karst/feature-words';
import { FEATURE_TYPES } from '../../../survey/feature-type';
import type { Feature, Survey } from '../../../survey/survey';
import { useEdit } from '../record/use-edit';

const GIVEN = [
  ['', 'not said'],
  ['yes', 'the owner agreed'],
  ['no', 'the owner said no'],
  ['unknown', 'asked, no clear answer'],
] as const;

/** What can be said of a feature by hand. */
export function FeatureForm({ survey, feature, onDone }: { survey: Survey; feature: Feature; onDone: () => void }) {
  const make = useEdit();
  const [refused, setRefused] = useState<string | null>(null);
  const classes = [
    ...new Set([
      ...survey.site.discretion_classes.map((each) => String((each as { name?: unknown }).name ?? '')),
      ...(feature.confidentiality ? [feature.confidentiality] : []),
    ]),
  ].filter((name) => name !== '');
  const submit = async (event: FormEvent<HTMLFormElement>): Promise<void> => {
    event.preventDefault();
    const said = new FormData(event.currentTarget);
    const textOf = (name: string): string => String(said.get(name) ?? '').trim();
    const given = GIVEN.find(([key]) => key === textOf('given'))?.[0] ?? '';
    const status = (Object.keys(STATUS_WORDS) as Feature['status'][]).find((key) => key === textOf('status'));
    let isTaken = false;
    const making = make((now, author) => {
      const change = correctFeature(
        now,
        feature.id,
        {
          type: textOf('type') || feature.type,
          name: textOf('name') || null,
          status: status ?? feature.status,
          confidentiality: textOf('confidentiality') || null,
          owner_consent:
            given === ''
              ? null
              : { ...feature.owner_consent, given, by: textOf('by') || null, date: textOf('date') || null },
          note: textOf('note') || null,
        },
        author,
      );
      isTaken = change.ok;
      return change;
    });
    // What was said stands at once; that it is written down and drawn takes longer, and is told elsewhere if it fails.
    if (isTaken) onDone();
    else setRefused(await making);
  };
  return (
    <form className="karst-form" onSubmit={(event) => void submit(event)}>
      <label className="karst-field">
        <span>Name</span>
        <input name="name" defaultValue={feature.name ?? ''} autoComplete="off" />
      </label>
      <label className="karst-field">
        <span>Type</span>
        <select name="type" defaultValue={feature.type}>
          {!FEATURE_TYPES.some((type) => type === feature.type) && (
            <option value={feature.type}>{typeWords(feature.type)}</option>
          )}
          {FEATURE_TYPES.map((type) => (
            <option key={type} value={type}>
              {typeWords(type)}
            </option>
          ))}
        </select>
      </label>
      <label className="karst-field">
        <span>Status</span>
        <select name="status" defaultValue={feature.status}>
          {Object.entries(STATUS_WORDS).map(([key, words]) => (
            <option key={key} value={key}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label className="karst-field">
        <span>Confidentiality class</span>
        <select name="confidentiality" defaultValue={feature.confidentiality ?? ''}>
          <option value="">no class</option>
          {classes.map((name) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
        </select>
      </label>
      {classes.length === 0 && (
        <p className="quiet">There are no classes yet. Say them under “What each class may show”.</p>
      )}
      <label className="karst-field">
        <span>Owner’s consent</span>
        <select name="given" defaultValue={feature.owner_consent?.given ?? ''}>
          {GIVEN.map(([key, words]) => (
            <option key={key} value={key}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label className="karst-field">
        <span>Who gave it</span>
        <input name="by" defaultValue={feature.owner_consent?.by ?? ''} autoComplete="off" />
      </label>
      <label className="karst-field">
        <span>When</span>
        <input name="date" type="date" defaultValue={feature.owner_consent?.date?.slice(0, 10) ?? ''} />
      </label>
      <label className="karst-field">
        <span>Note</span>
        <textarea name="note" rows={3} defaultValue={feature.note ?? ''} />
      </label>
      {refused && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
      <div className="karst-buttons">
        <button type="submit" className="line-button strong-button">
          Keep this
        </button>
        <button type="button" className="line-button" onClick={onDone}>
          Cancel
        </button>
      </div>
    </form>
  );
}
