import { useState } from 'react';
import type { Listed } from '../../../store/survey-store';
import { templateOf } from '../../../survey/template';
import { counted } from '../../../survey/wording';
import { wallWords } from '../../../wall-clock';
import { adopt } from '../../adopt';
import { useApp } from '../../app-context';
import { resume } from '../../start';
import type { Holds } from './use-kept-surveys';

export interface KeptRowProps {
  readonly survey: Listed;
  readonly holds: Holds | undefined;
  readonly onChanged: () => void;
}

/** A survey that this device has: opened with one tap; the rest behind “More”. */
export function KeptRow({ survey, holds, onChanged }: KeptRowProps) {
  const parts = useApp();
  const [template, setTemplate] = useState<{ readonly name: string; readonly withPlaces: boolean } | null>(null);
  const { key, name, archivedAt } = survey;

  const reopen = async () => {
    const kept = await parts.device.reopen(key);
    if (kept) await resume(parts, kept);
  };
  const begin = async () => {
    const kept = await parts.device.read(key);
    if (!kept || !template) return;
    const { withPlaces } = template;
    const named = template.name.trim() || `${name}, again`;
    setTemplate(null);
    await adopt(parts, templateOf(kept.survey, { name: named, seed: crypto.randomUUID(), withPlaces }), []);
    onChanged();
  };
  const putAway = async () => {
    await parts.device.archive(key, archivedAt === null);
    onChanged();
  };

  return (
    <>
      <button type="button" className="row-button" onClick={() => void reopen()}>
        <span className="row-words">
          <span className="row-place">Open {name}</span>
          <span className="row-verdict">{holdsWords(survey, holds)}</span>
        </span>
      </button>
      <details className="kept-more">
        <summary>
          More<span className="unseen"> about {name}</span>
        </summary>
        {template ? (
          <form
            className="kept-template"
            onSubmit={(event) => {
              event.preventDefault();
              void begin();
            }}
          >
            <label className="template-name">
              <span>Name of the new survey</span>
              <input
                type="text"
                value={template.name}
                onChange={(event) => setTemplate({ ...template, name: event.target.value })}
              />
            </label>
            <label className="choice">
              <input
                type="checkbox"
                checked={template.withPlaces}
                onChange={(event) => setTemplate({ ...template, withPlaces: event.target.checked })}
              />
              <span>The same ground: the lines lie where they lay</span>
            </label>
            <p className="quiet">It gets the lines, the meter, the rods and the rules of {name}, and no readings.</p>
            <p className="row-actions">
              <button type="submit" className="line-button">
                Begin
              </button>
              <button type="button" className="line-button" onClick={() => setTemplate(null)}>
                Cancel
              </button>
            </p>
          </form>
        ) : (
          <p className="row-actions">
            <button
              type="button"
              className="line-button"
              onClick={() => setTemplate({ name: `${name}, again`, withPlaces: false })}
            >
              Use as a template
            </button>
            <button type="button" className="line-button" onClick={() => void putAway()}>
              {archivedAt === null ? 'Put into the archive' : 'Take out of the archive'}
            </button>
          </p>
        )}
      </details>
    </>
  );
}

function holdsWords({ changedAt }: Listed, holds: Holds | undefined): string {
  const day = changedAt === null ? null : wallWords(new Date(changedAt));
  const what = holds
    ? `${counted(holds.lines, 'line')}, ${counted(holds.readings, 'reading')}, ${sizeWords(holds.bytes)}`
    : null;
  return [day && `changed ${day}`, what].filter(Boolean).join('; ');
}

const sizeWords = (bytes: number): string =>
  bytes < 1_000_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
