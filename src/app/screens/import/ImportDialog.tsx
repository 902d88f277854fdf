import { useEffect, useRef } from 'react';
import type { Note } from '../../../survey/note';
import { counted } from '../../../survey/wording';
import type { Understood } from '../../../workers/import-table';
import { useAppState } from '../../app-context';
import { FilePreview } from './FilePreview';
import { FaultNotes, OtherNotes } from './ImportNotes';
import { PlacesPreview } from './PlacesPreview';
import { SaveMapping } from './SaveMapping';
import { TargetChoice } from './TargetChoice';
import { takeWords } from './take-words';
import type { Import } from './use-import';

/** Notes about no file that is shown, such as one that a columns map names. */
function elsewhere({ notes, previews, places }: Understood): readonly Note[] {
  const shown = new Set([...previews, ...places].map((preview) => preview.file));
  return notes.filter(({ file }) => !shown.has(file));
}

/** What was understood of the files, to be corrected before anything is taken. */
export function ImportDialog({ bringing, onMore }: { bringing: Import; onMore: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const head = useRef<HTMLHeadingElement>(null);
  const hasOpen = useAppState(({ phase }) => phase.kind === 'ready');
  const { session } = bringing;

  useEffect(() => {
    dialog.current?.showModal();
    head.current?.focus();
  }, []);

  if (!session) return null;
  const { understood, refused, busy, columns } = session;
  const { mayTake, words } = takeWords(session);

  return (
    <dialog
      ref={dialog}
      className="import"
      aria-labelledby="import-head"
      onCancel={(event) => {
        event.preventDefault();
        bringing.end();
      }}
    >
      <header className="import-top">
        <h2 id="import-head" ref={head} tabIndex={-1}>
          What these files hold
        </h2>
        <button type="button" className="line-button" onClick={bringing.end}>
          Close
        </button>
      </header>
      <div className="import-page" aria-busy={busy}>
        <p>
          {understood
            ? 'Nothing is brought in yet. Look how each column and each name was understood, and correct it. The files stay on this device.'
            : refused.length > 0
              ? 'This could not be brought in, and nothing was changed.'
              : 'Reading…'}
        </p>
        {refused.length > 0 && (
          <ul className="plain-list faults" role="alert">
            {refused.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        )}
        {understood?.previews.map((preview) => (
          <FilePreview
            key={preview.file}
            preview={preview}
            columns={columns.files[preview.file]}
            notes={understood.notes.filter(({ file }) => file === preview.file)}
            onCorrect={(corrected) => bringing.correct(preview.file, corrected)}
            onLeaveOut={() => bringing.leaveOut(preview.file)}
          />
        ))}
        {understood?.places.map((places) => (
          <PlacesPreview
            key={places.file}
            understood={places}
            map={columns.places?.[places.file] ?? {}}
            notes={understood.notes.filter(({ file }) => file === places.file)}
            onCorrect={(corrected) => bringing.correctPlaces(places.file, corrected)}
            onAsTable={(table) => bringing.correct(places.file, { table })}
            onLeaveOut={() => bringing.leaveOut(places.file)}
          />
        ))}
        {understood && (
          <>
            <p>
              <button type="button" className="line-button" onClick={onMore}>
                Add another file
              </button>
            </p>
            <FaultNotes notes={elsewhere(understood)} />
            <OtherNotes notes={elsewhere(understood)} />
            <TargetChoice session={session} bringing={bringing} hasOpen={hasOpen} />
            <SaveMapping columns={columns} />
          </>
        )}
      </div>
      <footer className="import-foot">
        <p id="take-words" role="status">
          {busy ? 'Reading…' : words}
        </p>
        <button
          type="button"
          className="take-button"
          disabled={!mayTake || busy}
          aria-describedby="take-words"
          onClick={() => void bringing.take()}
        >
          {understood?.brings ? `Bring in ${counted(understood.brings.readings, 'reading')}` : 'Bring it in'}
        </button>
      </footer>
    </dialog>
  );
}
