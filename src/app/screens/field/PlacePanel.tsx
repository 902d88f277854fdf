import { metres } from '../../../survey/wording';
import { type FieldRecord, rodsAt } from '../../field/field-record';
import { here, useHere } from '../../field/position/here';
import { nextTarget, stakeTarget } from '../../field/position/targets';
import type { Spot } from '../../field/round';
import type { Content } from '../../state/app-state';
import { HereWords } from './HereWords';
import { TakeFix } from './TakeFix';

export interface PlacePanelProps {
  readonly content: Content;
  readonly record: FieldRecord;
  readonly spot: Spot | null;
  readonly onClose: () => void;
}

/** Proposed readings that are offered. */
const FIRST = 4;

/** The way to what is read now or next, and a fix taken for the line, without leaving the keys. */
export function PlacePanel({ content, record, spot, onClose }: PlacePanelProps) {
  const { findings } = content;
  const { position, target } = useHere();
  const line = findings.lines.find(({ lineId }) => lineId === record.line.id);
  const stations = spot ? [spot.stationM, ...rodsAt(record, spot)] : [];
  const stakes = [...new Set(stations)].flatMap((chainageM, i) => {
    const to = stakeTarget(line, chainageM);
    return to ? [{ to, words: i === 0 ? `station ${metres(chainageM)}` : `rod ${metres(chainageM)}` }] : [];
  });
  const next = findings.nextReadings.slice(0, FIRST).map((reading, i) => ({
    to: nextTarget(findings, reading),
    words: `next reading ${i + 1}`,
  }));
  return (
    <section className="place-panel" aria-label="Places">
      <div className="place-head">
        <h2>Go to</h2>
        {position.kind !== 'off' && (
          <button type="button" className="line-button" onClick={here.hide}>
            Stop the GPS
          </button>
        )}
        <button type="button" className="line-button" onClick={onClose}>
          Back to the reading
        </button>
      </div>
      {stakes.length === 0 && (
        <p className="here-small">Line {record.line.name} has no place yet: take a fix at two of its stakes.</p>
      )}
      <div className="try-row">
        {[...stakes, ...next].map(({ to, words }) => (
          <button
            key={words}
            type="button"
            className="toggle place-choice"
            aria-pressed={target?.label === to.label}
            onClick={() => here.goTo(to)}
          >
            {words}
          </button>
        ))}
      </div>
      <HereWords content={content} />
      <h2>A fix for line {record.line.name}</h2>
      <TakeFix line={record.line.id} stationM={spot?.stationM ?? record.plan.stationsM[0] ?? 0} />
    </section>
  );
}
