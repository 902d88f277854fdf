import { lazy, Suspense } from 'react';
import { useAppState } from '../app-context';
import type { Content } from '../state/app-state';
import { doubtsOfReading } from '../state/doubts-of';
import { indexOf } from '../state/index-of';
import { ladderOf } from '../state/ladder';
import type { ReadingEntry } from '../state/reading-index';
import { useTheme } from '../theme';
import { describeReading } from '../words/describe-reading';
import { CardDoubts } from './CardDoubts';
import { CardFrame } from './CardFrame';
import { LadderChart } from './LadderChart';
import { LadderTable } from './LadderTable';
import { ProfileChart } from './ProfileChart';
import { ReadingSwatch } from './ReadingSwatch';
import { ReadingActions } from './record/ReadingActions';
import { TilesChart } from './TilesChart';

const LadderSays = lazy(async () => ({ default: (await import('./read/LadderSays')).LadderSays }));

export interface ReadingCardProps {
  readonly content: Content;
  readonly entry: ReadingEntry;
  readonly onSelect: (sid: string) => void;
  readonly onClose: () => void;
}

/** All of a reading: what must be known before its numbers are believed comes before them. */
export function ReadingCard({ content, entry, onSelect, onClose }: ReadingCardProps) {
  const theme = useTheme(useAppState((state) => state.theme));
  const { finding, line, shown } = entry;
  const told = describeReading(finding, line.name, shown);
  const doubts = doubtsOfReading(content.findings, finding, line.lineId);
  const grave = doubts.filter(({ severity }) => severity !== 'note');
  const notes = doubts.filter(({ severity }) => severity === 'note');
  const verdict = (
    <>
      <ReadingSwatch finding={finding} theme={theme} /> {told.verdict}
    </>
  );
  return (
    <CardFrame
      title={told.title}
      verdict={verdict}
      rows={told.rows}
      onClose={onClose}
      after={<CardDoubts doubts={notes} />}
    >
      {told.warning && <p className="two-probe">{told.warning}</p>}
      <CardDoubts doubts={grave} />
      <LadderChart content={content} here={entry} theme={theme} onSelect={onSelect} />
      <LadderTable ladder={ladderOf(indexOf(content), entry)} here={entry} theme={theme} onSelect={onSelect} />
      <Suspense fallback={null}>
        <LadderSays content={content} here={entry} />
      </Suspense>
      <ProfileChart content={content} here={entry} theme={theme} onSelect={onSelect} />
      <TilesChart content={content} here={entry} theme={theme} onSelect={onSelect} />
      <div className="card-actions">
        {content.survey.readings
          .filter(({ id }) => finding.readings.includes(id))
          .map((reading) => (
            <ReadingActions key={reading.id} reading={reading} named={finding.readings.length > 1} />
          ))}
      </div>
    </CardFrame>
  );
}
