import { useEffect, useRef } from 'react';
import type { Line } from '../../../survey/survey';
import { metres } from '../../../survey/wording';
import { useApp } from '../../app-context';
import type { Content } from '../../state/app-state';
import { pointsOf } from '../../state/line-points';
import { tapeWords } from '../../words/layout-words';
import { lineWords } from '../../words/line-words';
import { ElectrodePlaces } from './ElectrodePlaces';
import { LinePoints } from './LinePoints';
import { PlannedElectrodes } from './PlannedElectrodes';
import { RemoteCost } from './RemoteCost';
import { Stakes } from './Stakes';
import { TraverseFigure } from './TraverseFigure';
import { useWholeSheet } from './use-whole-sheet';

/** One line: its points, where its electrodes come to stand, its stakes, its traverse. */
export function LinePage({ content, line }: { content: Content; line: Line }) {
  const { store } = useApp();
  const head = useRef<HTMLHeadingElement>(null);
  const found = content.findings.lines.find(({ lineId }) => lineId === line.id);
  const unplaced = content.findings.unplaced.find(({ lineId }) => lineId === line.id);
  const points = pointsOf(line, content.findings);
  const tape = found ? tapeWords(found) : null;

  useEffect(() => head.current?.focus({ preventScroll: true }), []);
  useWholeSheet();

  return (
    <>
      <section>
        <div className="card-top">
          <h2 ref={head} tabIndex={-1}>
            {lineWords(line.name)}
          </h2>
          <button
            type="button"
            className="line-button"
            onClick={() => store.dispatch({ type: 'layout', layout: { line: null, task: null, placed: null } })}
          >
            All lines
          </button>
        </div>
        <p role="status">
          {found
            ? `${metres(found.lengthM)} long, on the map.${tape ? ` Tape and GPS ${tape}.` : ''}`
            : (unplaced?.sentence ?? 'Working it out…')}
        </p>
      </section>
      <LinePoints content={content} line={line} points={points} />
      <section aria-labelledby="electrodes-head">
        <h2 id="electrodes-head">Electrodes</h2>
        <PlannedElectrodes line={line} />
        {found && <ElectrodePlaces found={found} />}
      </section>
      {found && <Stakes found={found} />}
      <TraverseFigure line={line} grids={content.survey.site.local_grids} />
      <RemoteCost content={content} line={line} />
    </>
  );
}
