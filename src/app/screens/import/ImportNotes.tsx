import type { Note } from '../../../survey/note';
import { counted } from '../../../survey/wording';

const SHOWN = 12;

/** What is in the way of taking a file, each saying what to do. */
export function FaultNotes({ notes }: { notes: readonly Note[] }) {
  const faults = notes.filter(({ kind }) => kind === 'fault');
  if (faults.length === 0) return null;
  return (
    <>
      <p className="fault-count">{counted(faults.length, 'fault')} in the way</p>
      <NoteItems notes={faults} className="plain-list faults" />
    </>
  );
}

/** What was guessed and what was left out. It stays with the survey once the file is taken. */
export function OtherNotes({ notes }: { notes: readonly Note[] }) {
  const others = notes.filter(({ kind }) => kind !== 'fault');
  if (others.length === 0) return null;
  return (
    <>
      <p className="note-count">Guessed or left out: {counted(others.length, 'note')}</p>
      <NoteItems notes={others} className="plain-list" />
    </>
  );
}

function NoteItems({ notes, className }: { notes: readonly Note[]; className: string }) {
  return (
    <>
      <ul className={className}>
        {notes.slice(0, SHOWN).map((note) => (
          <li key={`${note.row} ${note.column} ${note.sentence}`}>{note.sentence}</li>
        ))}
      </ul>
      {notes.length > SHOWN && <p>And {notes.length - SHOWN} more.</p>}
    </>
  );
}
