import { useRef } from 'react';
import type { TextHints } from '../../../position/coordinate-text';
import { placeText, REMOTE_WORDS, type RemoteEntry, type RemoteRole, understood } from '../../field/remotes-said';
import { lengthWords } from '../../words/layout-words';
import { latLonWords } from '../../words/position-words';
import { useGps } from '../layout/use-gps';
import { AveragingPanel } from './AveragingPanel';

export interface RemoteFieldsProps {
  readonly entries: readonly RemoteEntry[];
  readonly hints: TextHints;
  readonly onEntry: (entry: RemoteEntry) => void;
}

/** Where the remote electrodes stand: by a fix made there, or by coordinates. */
export function RemoteFields({ entries, hints, onEntry }: RemoteFieldsProps) {
  const asked = useRef<RemoteRole | null>(null);
  const gps = useGps(({ position }) => {
    if (asked.current) onEntry({ role: asked.current, text: placeText(position), position });
  });
  if (entries.length === 0) return null;
  return (
    <fieldset className="remote-fields">
      <legend>Remote electrodes</legend>
      <p className="quiet">
        An electrode left empty is taken as infinitely far. If it stands near, the readings come out too low.
      </p>
      {entries.map((entry) => (
        <div key={entry.role} className="remote-field">
          <label className="field-line">
            <span>{REMOTE_WORDS[entry.role]}: coordinates</span>
            <input
              type="text"
              autoComplete="off"
              value={entry.text}
              onChange={(event) => onEntry({ ...entry, text: event.target.value })}
            />
          </label>
          <button
            type="button"
            className="line-button"
            aria-label={`${REMOTE_WORDS[entry.role]} is here, by GPS`}
            disabled={gps.averaging !== null}
            onClick={() => {
              asked.current = entry.role;
              gps.start();
            }}
          >
            It is here (GPS)
          </button>
          <p className="here-small" role="status">
            {remoteWords(entry, hints)}
          </p>
          {gps.averaging && asked.current === entry.role && (
            <AveragingPanel averaging={gps.averaging} onEnough={gps.enough} onStop={gps.stop} />
          )}
        </div>
      ))}
      {gps.failure !== null && (
        <p className="refused" role="alert">
          {gps.failure}
        </p>
      )}
    </fieldset>
  );
}

/** How a field is understood, before anything rests on it. */
function remoteWords({ text, position }: RemoteEntry, hints: TextHints): string {
  if (position && text === placeText(position)) {
    const { accuracy_m: accuracyM, accuracy_level: level } = position;
    if (typeof accuracyM !== 'number' || accuracyM <= 0) return '';
    return `Good to ${lengthWords(accuracyM)}${level === 95 ? ' (95 %)' : ''}.`;
  }
  const read = understood(text, hints);
  if (read === null) return '';
  return read.ok ? `Understood as ${latLonWords(read.value.lonLat.lon, read.value.lonLat.lat)}.` : read.sentence;
}
