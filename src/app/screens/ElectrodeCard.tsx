import { useAppState } from '../app-context';
import { electrodeTarget } from '../field/position/targets';
import type { Content } from '../state/app-state';
import { indexOf } from '../state/index-of';
import type { ElectrodeEntry, ReadingEntry, ReadingIndex } from '../state/reading-index';
import { useTheme } from '../theme';
import { describeElectrode } from '../words/describe-electrode';
import { CardFrame } from './CardFrame';
import { GoToButton } from './field/GoToButton';
import { ReadingButton } from './ReadingButton';

export interface ElectrodeCardProps {
  readonly content: Content;
  readonly entry: ElectrodeEntry;
  readonly onSelect: (sid: string) => void;
  readonly onClose: () => void;
}

function readingsOf(index: ReadingIndex, { electrode, line }: ElectrodeEntry): ReadingEntry[] {
  const at = electrode.chainageM;
  if (at === null) return [];
  return index.entries.filter(
    ({ finding, line: own }) =>
      own.lineId === line.lineId &&
      [finding.aM, finding.bM, finding.mM, finding.nM].some((place) => place !== null && Math.abs(place - at) < 0.0005),
  );
}

/** An electrode, and the readings that it took part in. */
export function ElectrodeCard({ content, entry, onSelect, onClose }: ElectrodeCardProps) {
  const theme = useTheme(useAppState((state) => state.theme));
  const told = describeElectrode(entry.electrode, entry.line.name);
  const readings = readingsOf(indexOf(content), entry);
  return (
    <CardFrame title={told.title} verdict={told.verdict} rows={told.rows} onClose={onClose}>
      <GoToButton target={electrodeTarget(entry.electrode, entry.line.name)} words="Go to this stake" />
      {readings.length > 0 && (
        <ul className="row-list" aria-label="Readings with this electrode">
          {readings.map((reading) => (
            <li key={reading.finding.key}>
              <ReadingButton entry={reading} theme={theme} onSelect={onSelect} />
            </li>
          ))}
        </ul>
      )}
    </CardFrame>
  );
}
