import { counted } from '../../survey/wording';
import type { Content } from '../state/app-state';
import { KeptNote } from './KeptNote';
import { NewSurvey } from './surveys/NewSurvey';

/** The first three lines that anyone reads here. */
export function SurveySummary({ content: { survey, findings, notes } }: { content: Content }) {
  const readings = findings.lines.reduce((sum, line) => sum + line.readingCount, 0);
  const days = new Set(survey.outings.map((outing) => outing.date ?? outing.name)).size;
  const guessed = notes.filter((note) => note.kind !== 'fault');
  return (
    <section>
      <p className="opening">
        Each stroke is one ground-resistivity reading, laid where it was read and coloured by how it differs from quiet
        ground. Tap a stroke to hear all about it. What was not read is unknown, not safe.
      </p>
      <p>
        {counted(findings.lines.length, 'line')}, {counted(readings, 'reading')}
        {days > 0 && `, ${counted(days, 'day')} out`}. {reviewWords(survey.site.review_status)}
      </p>
      {survey.site.notes && <p>{survey.site.notes}</p>}
      {survey.site.invented && <NewSurvey />}
      <KeptNote />
      {findings.unusable.length > 0 && (
        <p className="doubt-line">
          {counted(findings.unusable.length, 'reading')} could not be used: {findings.unusable[0]?.sentence}
        </p>
      )}
      {findings.unplaced.map(({ lineId, name, sentence }) => (
        <p key={lineId} className="doubt-line">
          {name} is not on the map: {sentence}
        </p>
      ))}
      {guessed.length > 0 && (
        <details>
          <summary>{counted(guessed.length, 'note')} from reading the file</summary>
          <ul className="plain-list">
            {guessed.map((note) => (
              <li key={`${note.row} ${note.column} ${note.sentence}`}>{note.sentence}</li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}

/** The review status as a sentence. */
function reviewWords(status: string): string {
  const trimmed = status.trim();
  return trimmed === '' ? '' : `${trimmed.charAt(0).toUpperCase()}${trimmed.slice(1)}.`;
}
