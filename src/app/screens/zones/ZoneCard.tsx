import { lazy, Suspense } from 'react';
import { zoneWords } from '../../../evidence/zone-words';
import type { NextReading, ZoneFinding } from '../../../findings';
import { ratioText } from '../../../survey/wording';
import { useAppState } from '../../app-context';
import { nextTarget, zoneTarget } from '../../field/position/targets';
import type { Content } from '../../state/app-state';
import { indexOf } from '../../state/index-of';
import { strongestFirst } from '../../state/strongest';
import { useTheme } from '../../theme';
import { CardFrame } from '../CardFrame';
import { GoToButton } from '../field/GoToButton';
import { ReadingButton } from '../ReadingButton';
import { crossingWords } from './crossing-words';
import { ZoneSwatch } from './ZoneSwatch';

const SendZone = lazy(async () => ({ default: (await import('../karst/SendZone')).SendZone }));

export interface ZoneCardProps {
  readonly content: Content;
  readonly zone: ZoneFinding;
  readonly onSelect: (sid: string) => void;
  readonly onClose: () => void;
}

/** Readings of a zone that are listed. */
const FIRST = 6;

/** A zone: what is known, what else it could be, and what to read next. */
export function ZoneCard({ content, zone, onSelect, onClose }: ZoneCardProps) {
  const theme = useTheme(useAppState((state) => state.theme));
  const { title, verdict, known, otherwise, next } = zoneWords(zone, content.findings.lines);
  const where = crossingWords(zone, content.findings.lines);
  const keys = new Set(zone.midpoints);
  const readings = strongestFirst(indexOf(content).entries.filter(({ finding }) => keys.has(finding.key)));
  const target = zoneTarget(content.findings, zone.key);
  const proposed = content.findings.nextReadings
    .map((reading, i) => ({ reading, rank: i + 1 }))
    .filter(({ reading }) => reading.zone === zone.key);
  return (
    <div className="zone-card">
      <CardFrame
        title={title}
        verdict={
          <>
            <ZoneSwatch zone={zone} theme={theme} /> {verdict}
          </>
        }
        rows={[
          ...(where === '' ? [] : [{ term: 'Where on each line', words: where }]),
          { term: 'What else it could be', words: otherwise },
          { term: 'What to do', words: next },
        ]}
        onClose={onClose}
        after={
          <>
            {target && <GoToButton target={target} words="Go to this zone" />}
            <Suspense fallback={null}>
              <SendZone survey={content.survey} zone={zone} />
            </Suspense>
            <NextReadings proposed={proposed} content={content} />
            <h3>Its strongest readings</h3>
            <ul className="row-list">
              {readings.slice(0, FIRST).map((entry) => (
                <li key={entry.finding.key}>
                  <ReadingButton entry={entry} theme={theme} onSelect={onSelect} />
                </li>
              ))}
            </ul>
          </>
        }
      >
        <dl className="told">
          <div>
            <dt>Known</dt>
            {known.map((sentence) => (
              <dd key={sentence}>{sentence}</dd>
            ))}
          </div>
        </dl>
      </CardFrame>
    </div>
  );
}

const expected = (ratio: number | null): string => (ratio === null ? 'any' : `×${ratioText(ratio)}`);

/** The stakes on the map, with what each explanation lets expect there. */
function NextReadings({
  proposed,
  content,
}: {
  proposed: readonly { reading: NextReading; rank: number }[];
  content: Content;
}) {
  if (proposed.length === 0) return null;
  return (
    <>
      <h3>Worth reading next</h3>
      <p className="next-expected">Numbers as on the map.</p>
      <ol className="next-readings">
        {proposed.map(({ reading, rank }) => (
          <li key={reading.key} value={rank}>
            <span className="stake-number">{rank}</span> {reading.sentence}
            <span className="next-expected">
              If a void {expected(reading.expected.void)}; if contact {expected(reading.expected.contact)}; if uneven
              soil {expected(reading.expected.uneven_soil)}
            </span>
            <GoToButton target={nextTarget(content.findings, reading)} />
          </li>
        ))}
      </ol>
    </>
  );
}
