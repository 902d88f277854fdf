import { useAppState } from '../app-context';
import type { Content } from '../state/app-state';
import { useTheme } from '../theme';
import { breaksWords } from '../words/grade-breaks';
import { LEAD_SENTENCE, LEGEND_ORDER, LOW_SENTENCE, RAMP_WORDS } from '../words/legend-words';
import { lineWords } from '../words/line-words';
import { targetWords } from '../words/reference-words';
import { RampSwatch } from './RampSwatch';
import { ReferenceTable } from './ReferenceTable';

/** How to read the strokes: the ramp, the reference, the units, and what a low can be. */
export function Legend({ content }: { content: Content }) {
  const { findings } = content;
  const { settings } = findings.provenance;
  const theme = useTheme(useAppState((state) => state.theme));
  const firstLine = findings.lines[0]?.name;
  const hasLeads = findings.lines.some((line) => line.midpoints.some(({ figureKind }) => figureKind === 'two_probe'));
  return (
    <section aria-labelledby="legend-head">
      <h2 id="legend-head">Legend</h2>
      <ul className="legend">
        {LEGEND_ORDER.map((key) => (
          <li key={key}>
            <RampSwatch ramp={key} theme={theme} />
            <span>{RAMP_WORDS[key]}</span>
          </li>
        ))}
        {hasLeads && (
          <li>
            <RampSwatch ramp="clear_above" theme={theme} hint />
            <span>cut across: a two-probe hint</span>
          </li>
        )}
      </ul>
      <p>
        Full strokes stand above the reference, outlined ones below it; the wider, the larger the difference. With all
        spacings on, they lie side by side across the line, the narrowest spacing on its left as seen from its start,
        where its name is.
      </p>
      <p className="low">{LOW_SENTENCE}</p>
      {hasLeads && <p>{LEAD_SENTENCE}</p>}
      <ReferenceTable content={content} />
      <p className="quiet">{breaksWords(settings)} Figures are in Ω·m, lengths in metres.</p>
      {firstLine && (
        <p className="quiet">
          The grid counts metres east (E) and north (N) of the start of {lineWords(firstLine)}; north is up. Within the
          shaded bands {targetWords(settings.target)}, would have shown; outside them nothing was surveyed. Rings are
          control points, dots midpoints.
        </p>
      )}
    </section>
  );
}
