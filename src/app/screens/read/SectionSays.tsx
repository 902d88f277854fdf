import { useMemo } from 'react';
import { disclose } from '../../../discretion/disclose';
import { geojsonText } from '../../../exchange/write/geojson';
import { sectionLayer } from '../../../exchange/write/section-layer';
import { sectionCsv } from '../../../exchange/write/section-table';
import { fileLook, pageLook } from '../../../figures/look';
import { sectionFigure } from '../../../figures/section';
import { KNOWN_COVERAGE, sectionWords } from '../../../studies/line-words';
import type { SectionResult } from '../../../studies/section';
import { type SectionInput, sectionInputOf } from '../../../studies/section-input';
import { studyKey } from '../../../studies/study-key';
import type { LineId } from '../../../survey/ids';
import type { Outcome } from '../../../survey/outcome';
import { useAppState } from '../../app-context';
import { saveFile } from '../../save-file';
import type { Content } from '../../state/app-state';
import { useTheme } from '../../theme';
import { fileNameFrom } from '../../words/file-name';
import { FigureView } from '../FigureView';
import { SectionTable } from './SectionTable';
import { Granted, Sentences } from './Sentences';
import { StudyAsk } from './StudyAsk';
import type { AskStudy } from './use-study';
import { keptResults, useStudyOf } from './use-study-of';

const ask: AskStudy<SectionInput, Outcome<SectionResult>> = (client, input, tick) => client.section(input, tick);
const kept = keptResults<Outcome<SectionResult>>();
const keyOf = (input: SectionInput): string => studyKey('section', input);

/** The resistivity of the ground under a line, worked out when it is asked for; or why there is none. */
export function SectionSays({ content, lineId }: { content: Content; lineId: LineId }) {
  const input = useMemo(() => sectionInputOf(content.survey, content.findings, lineId), [content, lineId]);
  const work = useStudyOf(input.ok ? input.value : null, ask, kept, keyOf);
  const { state } = work;
  return (
    <section aria-labelledby="section-says">
      <h3 id="section-says">The ground under it</h3>
      {input.ok ? (
        <StudyAsk
          work={work}
          action="Work out a section"
          words="Resistivity by depth along the line. Some seconds to a minute."
        />
      ) : (
        <p>{input.sentence}</p>
      )}
      <div role="status">
        {state.kind === 'done' &&
          (state.result.ok ? (
            <Answer content={content} lineId={lineId} result={state.result.value} />
          ) : (
            <p>{state.result.sentence}</p>
          ))}
      </div>
    </section>
  );
}

function Answer({ content, lineId, result }: { content: Content; lineId: LineId; result: SectionResult }) {
  const theme = useTheme(useAppState((state) => state.theme));
  const drawing = useMemo(() => ({ ...result, knownFrom: KNOWN_COVERAGE }), [result]);
  const svg = useMemo(() => sectionFigure(drawing, pageLook(theme)), [drawing, theme]);
  const nameOf = (ending: string): string => fileNameFrom(['section', result.line], ending);
  const seen = () => disclose(content.survey, content.findings, 'surveyor');
  return (
    <>
      <FigureView
        svg={svg}
        selectedSid=""
        onSelect={() => undefined}
        name="section"
        forFile={() => sectionFigure(drawing, fileLook(720))}
        fileName={nameOf('svg')}
      />
      <Sentences sentences={sectionWords(result)} />
      <SectionTable cells={result.cells} />
      <p className="study-files">
        <button
          type="button"
          className="cell-button"
          onClick={() => saveFile(nameOf('csv'), sectionCsv(seen(), lineId, result.cells), 'text/csv')}
        >
          Download the cells (CSV)
        </button>
        <button
          type="button"
          className="cell-button"
          onClick={() =>
            saveFile(nameOf('geojson'), geojsonText(sectionLayer(seen(), lineId, result.cells)), 'application/geo+json')
          }
        >
          Download the cells (GeoJSON)
        </button>
      </p>
      <Granted sentences={result.remarks} />
    </>
  );
}
