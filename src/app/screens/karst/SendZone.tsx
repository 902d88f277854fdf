import { useState } from 'react';
import type { ZoneFinding } from '../../../findings';
import { sendZone } from '../../../karst/feature-edits';
import type { Survey } from '../../../survey/survey';
import { useApp } from '../../app-context';
import { useEdit } from '../record/use-edit';
import { zoneArea } from './zone-area';

/** Puts a zone into the inventory as a geophysical anomaly that nobody verified, or says that it is there. */
export function SendZone({ survey, zone }: { survey: Survey; zone: ZoneFinding }) {
  const { store } = useApp();
  const make = useEdit();
  const [refused, setRefused] = useState<string | null>(null);
  const there = survey.features.find(
    ({ links, retired }) => !retired && links?.some(({ kind, target }) => kind === 'zone' && target === zone.key),
  );
  return (
    <div className="karst-buttons">
      <button
        type="button"
        className="line-button"
        onClick={() => {
          const area = zoneArea(store.get().drawn?.layers ?? null, zone.key);
          void make((now, author) => sendZone(now, zone, area, author)).then(setRefused);
        }}
      >
        {there ? 'Send it again with what is known now' : 'Send it to the karst inventory'}
      </button>
      {there && (
        <button
          type="button"
          className="line-button"
          onClick={() => store.dispatch({ type: 'select', selection: { kind: 'feature', sid: there.id } })}
        >
          Open it in the inventory
        </button>
      )}
      {refused && <p role="alert">{refused}</p>}
    </div>
  );
}
