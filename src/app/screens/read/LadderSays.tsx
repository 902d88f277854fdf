import { useMemo } from 'react';
import { groundColumnFigure } from '../../../figures/ground-column';
import { fileLook, pageLook } from '../../../figures/look';
import type { SoundingResult } from '../../../studies/sounding';
import { soundingInput } from '../../../studies/sounding-input';
import { SOUNDING_ASSUMPTIONS, showsVoid, soundingWords } from '../../../studies/sounding-words';
import { metres } from '../../../survey/wording';
import { useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';
import type { ReadingEntry } from '../../state/reading-index';
import { useTheme } from '../../theme';
import { fileNameFrom } from '../../words/file-name';
import { FigureView } from '../FigureView';
import { useSounding } from './use-sounding';

/** What the ladder of a reading can say of contact, layers and voids, worked out when it is asked for. */
export function LadderSays({ content, here }: { content: Content; here: ReadingEntry }) {
  const { lineId, name } = here.line;
  const { chainageM, hookup } = here.finding;
  const input = useMemo(() => {
    const { survey, findings } = content;
    const line = findings.lines.find((one) => one.lineId === lineId);
    // Two lines may share a name: the ladder is that of this one.
    const only = { ...findings, lines: line ? [line] : [] };
    const found = soundingInput(survey, only, name, chainageM, hookup);
    return found.ok ? found.value : null;
  }, [content, lineId, name, chainageM, hookup]);
  const { state, begin, cancel } = useSounding(input);
  // One or two spacings are no ladder: the charts above say so by not being there.
  if (!input) return null;
  return (
    <section aria-labelledby="ladder-says">
      <h3 id="ladder-says">What this ladder can say</h3>
      {state.kind === 'not_asked' && (
        <>
          <p className="quiet">Contact, layers and whether a void is needed, with ranges. Takes about a second.</p>
          <button type="button" className="cell-button" onClick={begin}>
            Work it out
          </button>
        </>
      )}
      {state.kind === 'working' && (
        <>
          <p>
            <progress aria-label="Working it out" value={state.fraction} max={1} />
          </p>
          <button type="button" className="cell-button" onClick={cancel}>
            Cancel
          </button>
        </>
      )}
      {state.kind === 'failed' && (
        <>
          <p role="alert">{state.sentence}</p>
          <button type="button" className="cell-button" onClick={begin}>
            Try again
          </button>
        </>
      )}
      {state.kind === 'done' && (
        <>
          <Answer told={soundingWords(state.result)} />
          <Column result={state.result} />
        </>
      )}
    </section>
  );
}

/** The layers with their ranges, and where a void would lie. */
function Column({ result }: { result: SoundingResult }) {
  const theme = useTheme(useAppState((state) => state.theme));
  const { model } = result.layers;
  if (!model) return null;
  const { test } = result.void;
  const told = soundingWords(result);
  const depth = test && showsVoid(test) ? test.best.depthM : null;
  const column = {
    resistivities: model.resistivities,
    thicknesses: model.thicknesses,
    voidDepthM: depth ? { value: depth.middle, low95: depth.low95, high95: depth.high95 } : null,
    title: `The ground under line ${result.line} at ${metres(result.chainageM)}`,
    summary: [...told.layers, ...told.void].join(' '),
  };
  return (
    <FigureView
      svg={groundColumnFigure(column, pageLook(theme))}
      selectedSid=""
      onSelect={() => undefined}
      name="ground"
      forFile={() => groundColumnFigure(column, fileLook())}
      fileName={fileNameFrom(['ground', result.line, metres(result.chainageM)], 'svg')}
    />
  );
}

function Answer({ told }: { told: ReturnType<typeof soundingWords> }) {
  return (
    <div role="status">
      <Part title="Contact" sentences={told.contact} />
      <Part title="Layers" sentences={told.layers} />
      <Part title="Void" sentences={told.void} />
      <details>
        <summary>Assumptions</summary>
        <ul className="plain-list">
          {SOUNDING_ASSUMPTIONS.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      </details>
    </div>
  );
}

function Part({ title, sentences }: { title: string; sentences: readonly string[] }) {
  return (
    <>
      <h4>{title}</h4>
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </>
  );
}
