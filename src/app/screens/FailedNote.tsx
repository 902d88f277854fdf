import type { Note } from '../../survey/note';

const SHOWN = 20;

/** Why there is no survey to see, and what a person can do about it. */
export function FailedNote({ sentence, notes }: { sentence: string; notes: readonly Note[] }) {
  return (
    <section className="failed" role="alert">
      <h2>Nothing to show yet</h2>
      <p>{sentence}</p>
      {notes.length > 0 && (
        <ol className="plain-list">
          {notes.slice(0, SHOWN).map((note) => (
            <li key={`${note.row} ${note.column} ${note.sentence}`}>{note.sentence}</li>
          ))}
        </ol>
      )}
      {notes.length > SHOWN && <p>And {notes.length - SHOWN} more.</p>}
      <p>
        <a href="./">Open the survey that comes with the program</a>
      </p>
    </section>
  );
}
