import { zoneWords } from '../../../evidence/zone-words';
import type { ZoneFinding } from '../../../findings';
import { ratioText } from '../../../survey/wording';
import { useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';
import { useTheme } from '../../theme';
import { ZoneSwatch } from './ZoneSwatch';

/** Where readings stand out together, each a tap from why it is believed and what else it could be. */
export function ZoneList({ content, onOpen }: { content: Content; onOpen: (key: string) => void }) {
  const theme = useTheme(useAppState((state) => state.theme));
  const { zones, lines, searchedLines } = content.findings;
  return (
    <section aria-labelledby="zones-head">
      <h2 id="zones-head">Zones</h2>
      {zones.length === 0 && <p>No neighbouring readings stand out together. That does not rule a void out.</p>}
      <ul className="row-list">
        {zones.map((zone) => {
          const { title, verdict } = zoneWords(zone, lines);
          return (
            <li key={zone.key}>
              <button type="button" className="row-button" onClick={() => onOpen(zone.key)}>
                <ZoneSwatch zone={zone} theme={theme} />
                <span className="row-words">
                  <span className="row-place">{title}</span>
                  <span className="row-verdict">
                    {verdict}
                    {strengthWords(zone)}
                  </span>
                </span>
              </button>
            </li>
          );
        })}
      </ul>
      {zones.some(({ basis }) => basis === 'grades') && searchedLines.length === 0 && (
        <p className="next-expected">
          These are neighbouring grades alone: uneven soil makes such zones too. A search of the line, below, tells
          more.
        </p>
      )}
    </section>
  );
}

/** "; 16 above, up to ×1.26": what tells one zone from another before it is opened. */
function strengthWords({ highs, lows, peakRatio }: ZoneFinding): string {
  const stand = [highs > 0 ? `${highs} above` : '', lows > 0 ? `${lows} below` : ''].filter(Boolean).join(' and ');
  if (stand === '') return '';
  return `; ${stand}${peakRatio === null ? '' : `, strongest ×${ratioText(peakRatio)}`}`;
}
