import { memo, type ReactNode } from 'react';
import type { Doubt } from '../../../survey/doubt';
import { shownAs } from '../../../survey/shown';
import type { Reading, Wetting } from '../../../survey/survey';
import { metres, ratioText } from '../../../survey/wording';
import { useApp, useAppState } from '../../app-context';
import { undo } from '../../edit';
import { type FieldRecord, findingOf, rodsAt, spotOf } from '../../field/field-record';
import { isSameSpot, type Spot } from '../../field/round';
import type { Content } from '../../state/app-state';
import { bySeverity } from '../../state/doubts-of';
import { useTheme } from '../../theme';
import { gradeWords } from '../../words/grade-words';
import { DoubtItem } from '../DoubtItem';
import { ReadingSwatch } from '../ReadingSwatch';
import { SavedMark } from './SavedMark';

export interface LastReadingProps {
  readonly content: Content;
  readonly record: FieldRecord;
  readonly reading: Reading;
  /** The spot that is being read now: what it shares with the last reading need not be said again. */
  readonly at: Spot | null;
  /** What is drawn between what has to be seen at once and what is only worth knowing. */
  readonly ladder: ReactNode;
  readonly onAgain: (change: { readonly wetting?: Wetting; readonly reDriven?: readonly number[] }) => void;
}

/** The reading that was kept last: whether it is saved, what it says, what is doubtful, and what to try about it. */
export const LastReading = memo(function LastReading(props: LastReadingProps) {
  const { content, record, reading, at, ladder, onAgain } = props;
  const parts = useApp();
  const theme = useTheme(useAppState((state) => state.theme));
  const canUndo = useAppState(({ history }) => history.undo.at(-1)?.label === 'Add a reading');
  const finding = findingOf(content.findings, reading);
  // That a figure was read once is true of every one of them here.
  const doubts = bySeverity(content.findings.doubts).filter(
    ({ readings, code }) => code !== 'single_reading' && readings.includes(reading.id),
  );
  // The verdict above says already that there is nothing to compare with: the ladder is not pushed away for it.
  const isGrave = ({ severity, code }: Doubt) => severity !== 'note' && code !== 'outside_reference';
  const grave = doubts.filter(isGrave);
  const notes = doubts.filter((doubt) => !isGrave(doubt));
  const spot = spotOf(reading);
  const rods = spot ? rodsAt(record, spot) : [];
  const dry = reading.wetting === 'none' || !reading.wetting;
  const tries = (
    <fieldset className="reading-chips">
      <legend className="unseen">Try at the same spot</legend>
      <button type="button" className="toggle" onClick={() => onAgain({})}>
        Read again
      </button>
      {dry && (
        <button type="button" className="toggle" onClick={() => onAgain({ wetting: 'water' })}>
          Read again, wetted
        </button>
      )}
      {rods.map((rod, i) => (
        <button key={rod} type="button" className="toggle" onClick={() => onAgain({ reDriven: [i + 1] })}>
          Read again, rod {i + 1} <span className="one-word">re-driven</span>
        </button>
      ))}
    </fieldset>
  );
  return (
    <section className="last-reading" aria-label="The last reading">
      <p className="last-said">
        <span>
          {spot && placeWords(spot, at)}
          <strong>{shownAs(reading)}</strong>
          {finding && (
            <span className="last-verdict">
              <ReadingSwatch finding={finding} theme={theme} />{' '}
              {finding.ratio === null ? gradeWords(finding) : `${ratioText(finding.ratio)} × reference`}
              {finding.ratio !== null && <span className="unseen">: {gradeWords(finding)}</span>}
            </span>
          )}
        </span>
        <SavedMark />
        <button type="button" className="line-button" disabled={!canUndo} onClick={() => void undo(parts)}>
          Undo
        </button>
      </p>
      {grave.length > 0 && (
        <>
          <Doubts doubts={grave} />
          {tries}
        </>
      )}
      {ladder}
      {notes.length > 0 && (
        <details className="last-notes">
          <summary>Worth knowing about it ({notes.length})</summary>
          <Doubts doubts={notes} />
          {grave.length === 0 && tries}
        </details>
      )}
    </section>
  );
});

/** "spacing 2 m: ", with the station where it is another one. */
function placeWords(spot: Spot, at: Spot | null): string {
  if (at && isSameSpot(spot, at)) return 'before: ';
  const station = at && Math.abs(at.stationM - spot.stationM) < 0.005 ? '' : `${metres(spot.stationM)}, `;
  return `${station}spacing ${metres(spot.spacingM)}: `;
}

function Doubts({ doubts }: { doubts: readonly Doubt[] }) {
  return (
    <ul className="last-doubts" aria-label="Doubts about it">
      {doubts.map((doubt) => (
        <li key={doubt.id}>
          <DoubtItem doubt={doubt} />
        </li>
      ))}
    </ul>
  );
}
