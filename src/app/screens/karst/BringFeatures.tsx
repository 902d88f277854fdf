import { useEffect, useRef } from 'react';
import type { InventoryMapping } from '../../../exchange/read/karst-columns';
import { featuresWords } from '../../../karst/feature-words';
import { counted } from '../../../survey/wording';
import { ColumnChoices } from './ColumnChoices';
import { FaultGroups } from './FaultGroups';
import { FileSays } from './FileSays';
import { TypeChoices } from './TypeChoices';
import type { BringFeaturesWork } from './use-bring-features';

/** What a file of features holds, to be corrected before anything is taken. */
export function BringFeatures({ work }: { work: BringFeaturesWork }) {
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => head.current?.focus(), []);
  const { state, look, take, end } = work;
  if (!state) return null;
  const { file, preview, busy, refused, fraction } = state;
  const correct = (mapping: InventoryMapping): void => void look(file, mapping);
  // Said faster than read: each correction goes on from the one before.
  const mapping = state.mapping ?? preview?.mapping ?? {};
  const fresh = preview ? preview.features - preview.known : 0;
  return (
    <section aria-labelledby="bring-head" aria-busy={busy} className="karst-bring">
      <h2 id="bring-head" ref={head} tabIndex={-1}>
        What {file} holds
      </h2>
      {refused && <p role="alert">{refused}</p>}
      {busy && (
        <div className="karst-work" role="status">
          <span>Reading…</span>
          <progress aria-label="Reading" max={1} {...(fraction === null ? {} : { value: fraction })} />
        </div>
      )}
      {preview && (
        <>
          <p>
            {counted(preview.rows, 'row')}: {featuresWords(preview.features)}
            {preview.leftOut > 0 ? `, ${preview.leftOut} left out (see below)` : ''}
            {preview.unwanted > 0 ? `, ${preview.unwanted} not wanted` : ''}
            {preview.known > 0 ? `, ${preview.known} here already (they stay as they are)` : ''}. Nothing is brought in
            yet; the file stays on this device.
          </p>
          <FaultGroups faults={preview.faults} />
          <ColumnChoices columns={preview.columns} mapping={mapping} onCorrect={correct} />
          <TypeChoices preview={preview} mapping={mapping} onCorrect={correct} />
          <FileSays mapping={mapping} onCorrect={correct} />
        </>
      )}
      <div className="karst-buttons">
        <button
          type="button"
          className="line-button strong-button"
          disabled={busy || fresh === 0}
          onClick={() => void take()}
        >
          {fresh > 0
            ? `Bring in ${featuresWords(fresh)}`
            : preview && preview.features > 0
              ? 'Nothing new to bring in'
              : 'Nothing to bring in yet'}
        </button>
        <button type="button" className="line-button" onClick={end}>
          Cancel
        </button>
      </div>
    </section>
  );
}
