import { useId, useMemo, useState } from 'react';
import { disclose } from '../../../discretion/disclose';
import { changesFigure } from '../../../figures/changes';
import { fileLook, pageLook } from '../../../figures/look';
import { useApp, useAppState } from '../../app-context';
import { changesDrawing, comparedLines } from '../../compare/changes-drawing';
import type { Compared } from '../../compare/compared';
import { saveFile } from '../../save-file';
import type { Content } from '../../state/app-state';
import { useTheme } from '../../theme';
import { fileNameFrom } from '../../words/file-name';
import { lineWords } from '../../words/line-words';
import { FigureView } from '../FigureView';
import { Sentences } from '../read/Sentences';
import { SaveRow } from '../SaveRow';
import { ChangeLegend } from './ChangeLegend';
import { ChangesTable } from './ChangesTable';

export interface ComparisonSaysProps {
  readonly compared: Compared;
  readonly content: Content;
  readonly outdated: boolean;
  readonly onSelect: (sid: string) => void;
  readonly onClose: () => void;
}

/** What changed between two surveys: in sentences, on the map, along a line, reading by reading, and as files. */
export function ComparisonSays({ compared, content, outdated, onSelect, onClose }: ComparisonSaysProps) {
  const { comparison, sentences } = compared;
  return (
    <>
      {outdated && (
        <p role="status">
          <strong>The survey was changed since.</strong> Close this and compare again.
        </p>
      )}
      <Sentences sentences={sentences} />
      <p>
        <button type="button" className="line-button" onClick={onClose}>
          Close the comparison
        </button>
      </p>
      {comparison.matched.length > 0 && (
        <>
          <ChangeLegend matched={comparison.matched} />
          <ChangesAlongLine compared={compared} content={content} onSelect={onSelect} />
          <ChangesTable matched={comparison.matched} onSelect={onSelect} />
          <ChangeFiles compared={compared} content={content} />
        </>
      )}
    </>
  );
}

function ChangesAlongLine({
  compared,
  content,
  onSelect,
}: Pick<ComparisonSaysProps, 'compared' | 'content' | 'onSelect'>) {
  const theme = useTheme(useAppState((state) => state.theme));
  const id = useId();
  const { comparison, earlier } = compared;
  const lines = useMemo(() => comparedLines(comparison, content.findings.lines), [comparison, content]);
  const [chosen, setChosen] = useState('');
  const line = lines.find(({ key }) => key === chosen) ?? lines[0];
  const drawing = useMemo(() => (line ? changesDrawing(comparison, line, earlier) : null), [comparison, line, earlier]);
  const svg = useMemo(() => (drawing ? changesFigure(drawing, pageLook(theme)) : ''), [drawing, theme]);
  if (!line || !drawing) return null;
  return (
    <>
      <h3>Along a line</h3>
      <div className="line-choice">
        <label htmlFor={id}>Line</label>
        <select id={id} value={line.key} onChange={(event) => setChosen(event.target.value)}>
          {lines.map(({ key, words }) => (
            <option key={key} value={key}>
              {lineWords(words)}
            </option>
          ))}
        </select>
      </div>
      <FigureView
        svg={svg}
        selectedSid=""
        onSelect={onSelect}
        name="change"
        forFile={() => changesFigure(drawing, fileLook(720))}
        fileName={fileNameFrom(['change', line.words, 'since', earlier], 'svg')}
      />
    </>
  );
}

function ChangeFiles({ compared, content }: Pick<ComparisonSaysProps, 'compared' | 'content'>) {
  const { store } = useApp();
  const [said, setSaid] = useState('');
  const { matched } = compared.comparison;

  const save = async (name: string, mediaType: string) => {
    try {
      const { changesCsv, changesLayer } = await import('../../../exchange/write/changes');
      const { geojsonText } = await import('../../../exchange/write/geojson');
      const disclosed = disclose(content.survey, content.findings, 'surveyor');
      const text = name.endsWith('.csv')
        ? changesCsv(disclosed, matched)
        : geojsonText(changesLayer(disclosed, matched));
      setSaid(`${name} saved, ${Math.ceil(saveFile(name, text, mediaType) / 1000)} kB.`);
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      store.dispatch({ type: 'trouble', sentence: `${name} could not be written: ${reason}` });
    }
  };
  return (
    <>
      <h3>As files</h3>
      <p className="quiet">Your own copies: they hold every place exactly.</p>
      <ul className="row-list">
        <SaveRow
          name="changes.geojson"
          words="the stretches of line with what changed, for any map program"
          onSave={() => void save('changes.geojson', 'application/geo+json')}
        />
        <SaveRow
          name="changes.csv"
          words="one row for each reading that has a counterpart"
          onSave={() => void save('changes.csv', 'text/csv')}
        />
      </ul>
      <p role="status">{said}</p>
    </>
  );
}
