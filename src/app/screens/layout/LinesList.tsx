import { useEffect, useRef, useState } from 'react';
import type { LineId } from '../../../survey/ids';
import { counted, metres } from '../../../survey/wording';
import { useApp } from '../../app-context';
import type { Content } from '../../state/app-state';
import { pointsOf } from '../../state/line-points';
import { tapeWords, unsureWords } from '../../words/layout-words';
import { lineWords } from '../../words/line-words';
import { HistoryButtons } from '../record/HistoryButtons';
import { NewLine } from './NewLine';
import { PlanSection } from './PlanSection';

/** Every line with what there is to know of its place, and the ways to a new one. */
export function LinesList({ content }: { content: Content }) {
  const { store } = useApp();
  const [adding, setAdding] = useState(false);
  const add = useRef<HTMLButtonElement>(null);
  const wasAdding = useRef(false);
  const lines = content.survey.lines.filter(({ retired }) => !retired);
  const open = (line: LineId) => store.dispatch({ type: 'layout', layout: { line } });

  useEffect(() => {
    if (wasAdding.current && !adding) add.current?.focus();
    wasAdding.current = adding;
  }, [adding]);

  return (
    <>
      <section>
        <p className="opening">
          The tape gives a line its shape.
          <br />
          GPS anchors it: one fix at each end.
          <br />
          Tell where it bends.
        </p>
        {adding ? (
          <NewLine onAdded={open} onCancel={() => setAdding(false)} />
        ) : (
          <div className="ask-buttons">
            <button ref={add} type="button" className="line-button strong-button" onClick={() => setAdding(true)}>
              New line
            </button>
            <button
              type="button"
              className="line-button"
              onClick={() => store.dispatch({ type: 'layout', layout: { task: 'draw', sketch: null } })}
            >
              Draw a line on the map
            </button>
          </div>
        )}
      </section>
      <section aria-labelledby="lines-head">
        <h2 id="lines-head">Lines</h2>
        {lines.length === 0 && <p>None yet.</p>}
        <ul className="row-list">
          {lines.map((line) => (
            <li key={line.id}>
              <button type="button" className="row-button lay-line" onClick={() => open(line.id)}>
                <strong>{lineWords(line.name)}</strong>
                <span>{lineSummary(content, line.id)}</span>
              </button>
            </li>
          ))}
        </ul>
        <HistoryButtons />
      </section>
      <section aria-labelledby="plan-head">
        <h2 id="plan-head">What would show</h2>
        <PlanSection />
      </section>
    </>
  );
}

/** "36 m, 3 points, ± 0.9 to 1.2 m; tape and GPS agree (+0.4 % ± 1.2 %)". */
function lineSummary({ survey, findings }: Content, id: LineId): string {
  const line = survey.lines.find((each) => each.id === id);
  const points = line ? pointsOf(line, findings).length : 0;
  const found = findings.lines.find(({ lineId }) => lineId === id);
  if (!found) return `${counted(points, 'point')}; not on the map yet`;
  const tape = tapeWords(found);
  const radii = found.electrodes.flatMap(({ chainageM, uncertainty95M }) =>
    chainageM === null ? [] : [uncertainty95M],
  );
  const unsure = unsureWords(radii.length > 0 ? radii : found.controls.map(({ uncertainty95M }) => uncertainty95M));
  const parts = [metres(found.lengthM), points === 0 ? 'places from its readings' : counted(points, 'point'), unsure];
  return `${parts.filter(Boolean).join(', ')}${tape ? `; tape and GPS ${tape}` : ''}`;
}
