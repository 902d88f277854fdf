import { useEffect, useRef } from 'react';
import { geodesicDistanceM } from '../../../position/geodesic';
import type { LineId } from '../../../survey/ids';
import { counted } from '../../../survey/wording';
import { useApp, useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';
import { drawnAccuracy95M, pointedAccuracy95M } from '../../state/map-accuracy';
import { lengthWords } from '../../words/layout-words';
import { aheadWords, legWords } from '../../words/leg-words';
import { DrawnLineForm } from './DrawnLineForm';

/** A line that is being drawn on the map: what it measures so far, then its name and chainages. */
export function DrawPanel({ content }: { content: Content }) {
  const { store } = useApp();
  const sketch = useAppState(({ layout }) => layout.sketch);
  const drawing = useAppState(({ layout }) => layout.task === 'draw');
  const takenBack = useAppState(({ layout }) => layout.cornersTakenBack);
  const head = useRef<HTMLHeadingElement>(null);
  const vertices = sketch?.vertices ?? [];
  const finished = !drawing || sketch?.finished === true;
  const leave = () => store.dispatch({ type: 'layout', layout: { task: null, sketch: null } });
  const added = (line: LineId) => store.dispatch({ type: 'layout', layout: { task: null, sketch: null, line } });

  useEffect(() => head.current?.focus({ preventScroll: true }), []);
  useEffect(() => {
    if (drawing && sketch?.finished) store.dispatch({ type: 'layout', layout: { task: null } });
  }, [drawing, sketch, store]);

  const last = vertices[vertices.length - 1];
  const before = vertices[vertices.length - 2];
  const ahead = sketch && aheadWords(sketch);
  const total = vertices.slice(1).reduce((sum, to, i) => sum + geodesicDistanceM(vertices[i] ?? to, to), 0);
  const drawn95M = drawnAccuracy95M(content.findings);
  return (
    <section aria-labelledby="draw-head">
      <h2 id="draw-head" ref={head} tabIndex={-1}>
        Draw a line
      </h2>
      {!finished && (
        <>
          <p>Tap the map where the line begins, at every bend, and where it ends. Placed points draw a tap to them.</p>
          <p className="quiet">
            Without a pointer: begin a new line, and place its points “on the map” by the cross in its middle.
          </p>
          <p className="live" role="status">
            {vertices.length === 0
              ? 'Nothing drawn yet.'
              : `${counted(vertices.length, 'point')}, ${total.toFixed(1)} m in all.${before && last ? ` Last leg ${legWords(before, last)}.` : ''}`}
          </p>
          {ahead && <p className="live">To the pointer: {ahead}</p>}
          <div className="ask-buttons">
            <button
              type="button"
              className="line-button strong-button"
              disabled={vertices.length < 2}
              onClick={() => store.dispatch({ type: 'layout', layout: { task: null } })}
            >
              It ends here
            </button>
            <button
              type="button"
              className="line-button"
              disabled={vertices.length === 0}
              onClick={() => store.dispatch({ type: 'layout', layout: { cornersTakenBack: takenBack + 1 } })}
            >
              Undo the last point
            </button>
            <button type="button" className="line-button" onClick={leave}>
              Cancel
            </button>
          </div>
        </>
      )}
      {finished && vertices.length >= 2 && (
        <div className="boxed">
          <DrawnLineForm content={content} vertices={vertices} onAdded={added} onCancel={leave} />
        </div>
      )}
      {finished && vertices.length < 2 && (
        <>
          <p>A line needs two points at least.</p>
          <button type="button" className="line-button" onClick={leave}>
            Back
          </button>
        </>
      )}
      <p className="quiet">
        A tap is good to three dots of the screen, now {lengthWords(3 * (last?.metresPerPixel ?? 0))}; what is drawn on
        the map is itself good to {lengthWords(drawn95M)}. Together{' '}
        {lengthWords(pointedAccuracy95M(last?.metresPerPixel ?? 0, drawn95M))} is written down for each point.
      </p>
    </section>
  );
}
