import { useEffect, useMemo, useRef, useState } from 'react';
import { fileLook, pageLook } from '../../../figures/look';
import { type SearchDrawing, searchFigure } from '../../../figures/search';
import type { LineFindings } from '../../../findings';
import { candidatePlace, searchWords } from '../../../studies/line-words';
import { groupInput, searchGroups } from '../../../studies/search-survey';
import { studyKey } from '../../../studies/study-key';
import type { VoidCandidate, VoidSearchResult } from '../../../studies/void-search-answer';
import type { VoidSearchInput } from '../../../studies/void-search-question';
import { isTwoProbe } from '../../../survey/hookup';
import type { LineId } from '../../../survey/ids';
import type { Outcome } from '../../../survey/outcome';
import { metres, ratioText } from '../../../survey/wording';
import { useApp, useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';
import { takeSearch } from '../../take-search';
import { useTheme } from '../../theme';
import { fileNameFrom } from '../../words/file-name';
import { FigureView } from '../FigureView';
import { FindableTable } from './FindableTable';
import { Granted, Sentences } from './Sentences';
import { StudyAsk } from './StudyAsk';
import type { AskStudy } from './use-study';
import { keptResults, useStudyOf } from './use-study-of';

const ask: AskStudy<VoidSearchInput, Outcome<VoidSearchResult>> = (client, input, tick) =>
  client.voidSearch(input, tick);
const kept = keptResults<Outcome<VoidSearchResult>>();
const keyOf = (input: VoidSearchInput): string => studyKey('void-search', input);

export interface SearchSaysProps {
  readonly content: Content;
  readonly line: LineFindings;
  readonly onSelect: (sid: string) => void;
}

/** Whether a void under a line is needed to explain its readings, and how small a one would have shown; or why not. */
export function SearchSays({ content, line, onSelect }: SearchSaysProps) {
  const { lineId } = line;
  const parts = useApp();
  // What a search is computed from takes a while to gather: only for a line that somebody asked about.
  const [asked, setAsked] = useState(askedLines.has(lineId));
  const beginning = useRef(false);
  const refusable = line.hookups.every(isTwoProbe);
  const { input, refusal } = useMemo(
    () => (asked || refusable ? askedFor(content, lineId) : NOT_ASKED),
    [content, lineId, asked, refusable],
  );
  const work = useStudyOf(input, ask, kept, keyOf);
  const { state } = work;
  const { begin } = work;
  useEffect(() => {
    if (!input || !beginning.current) return;
    beginning.current = false;
    begin();
  }, [input, begin]);
  const first = {
    ...work,
    begin() {
      askedLines.add(lineId);
      beginning.current = true;
      setAsked(true);
    },
  };
  const found = state.kind === 'done' && state.result.ok ? state.result.value : null;

  // The map and the zones have it too, as long as the readings are those that were searched.
  useEffect(() => {
    if (!found) return;
    const searched = new Set<string>(content.findings.searchedLines);
    const own = content.findings.lines.filter(({ name }) => found.lines.includes(name));
    if (!own.every((each) => searched.has(each.lineId))) void takeSearch(parts, found);
  }, [found, content, parts]);

  return (
    <section aria-labelledby="search-says">
      <h3 id="search-says">A void under it</h3>
      {input || !(asked || refusable) ? (
        <StudyAsk
          work={asked ? work : first}
          action="Search the line for a void"
          words="All spacings and stations together, with the lines near it, against uneven soil and scatter. Some seconds to some minutes."
        />
      ) : (
        <p>{refusal}</p>
      )}
      <div role="status">
        {state.kind === 'done' &&
          (state.result.ok ? (
            <Answer line={line} result={state.result.value} onSelect={onSelect} />
          ) : (
            <p>{state.result.sentence}</p>
          ))}
      </div>
    </section>
  );
}

/** Lines that were asked about since the page was opened: their answers are looked up again. */
const askedLines = new Set<LineId>();
const NOT_ASKED = { input: null, refusal: '' } as const;

/** The line with those near it; where it cannot be searched, why not. */
function askedFor({ survey, findings }: Content, lineId: LineId): { input: VoidSearchInput | null; refusal: string } {
  const group = searchGroups(findings.lines).find((ids) => ids.includes(lineId)) ?? [lineId];
  const { input, leftOut } = groupInput(survey, findings, group);
  if (input?.lines.some((each) => each.lineId === lineId)) return { input, refusal: '' };
  const alone = groupInput(survey, findings, [lineId]);
  return { input: alone.input, refusal: (alone.leftOut[0] ?? leftOut[0])?.sentence ?? '' };
}

interface AnswerProps {
  readonly line: LineFindings;
  readonly result: VoidSearchResult;
  readonly onSelect: (sid: string) => void;
}

function Answer({ line, result, onSelect }: AnswerProps) {
  const theme = useTheme(useAppState((state) => state.theme));
  const drawing = useMemo(() => drawingOf(line, result), [line, result]);
  const [found = '', ...rest] = searchWords(result);
  const svg = useMemo(() => searchFigure(drawing, pageLook(theme)), [drawing, theme]);
  return (
    <>
      <FigureView
        svg={svg}
        selectedSid=""
        onSelect={() => undefined}
        name="search"
        forFile={() => searchFigure(drawing, fileLook(720))}
        fileName={fileNameFrom(['search', line.name], 'svg')}
      />
      <Sentences sentences={[found]} />
      {result.candidates.some((candidate) => isUnder(candidate, line)) && (
        <ol className="candidates">
          {result.candidates
            .filter((candidate) => isUnder(candidate, line))
            .map((candidate) => (
              <li key={candidatePlace(candidate)} className="candidate">
                <strong>{candidatePlace(candidate)}</strong> {candidate.sentence}{' '}
                {candidate.readings[0] !== undefined && (
                  <button type="button" className="cell-button" onClick={() => onSelect(candidate.readings[0] ?? '')}>
                    Its weightiest reading
                  </button>
                )}
              </li>
            ))}
        </ol>
      )}
      <Sentences sentences={rest} />
      <UsefulTable result={result} />
      <FindableTable findable={result.findable.filter((place) => place.line === line.name)} />
      <Granted sentences={result.remarks} />
    </>
  );
}

const isUnder = ({ crossings }: VoidCandidate, { name }: LineFindings): boolean =>
  crossings.some((crossing) => crossing.line === name);

/** Where to read next, and what a void and the best other cause each let expect there. */
function UsefulTable({ result: { useful } }: { result: VoidSearchResult }) {
  if (useful.length === 0) return null;
  return (
    <table>
      <caption>Worth reading next: ratio to the reference</caption>
      <thead>
        <tr>
          <th scope="col">At</th>
          <th scope="col">Spacing</th>
          <th scope="col">If a void</th>
          <th scope="col">If not</th>
        </tr>
      </thead>
      <tbody>
        {useful.map(({ line, chainageM, spacingM, ifVoid, ifNot }) => (
          <tr key={`${line}:${chainageM}:${spacingM}`}>
            <th scope="row">{metres(chainageM)}</th>
            <td>{metres(spacingM)}</td>
            <td>{ratioText(ifVoid)}</td>
            <td>{ratioText(ifNot)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const VERDICT_WORDS = {
  void_like: 'a void explains it best',
  layer_like: 'layers explain it as well',
  contact_like: 'contact explains it as well',
  unresolved: 'a void or another cause',
} as const;

function drawingOf({ name, electrodes }: LineFindings, { candidates, findable }: VoidSearchResult): SearchDrawing {
  const electrodesM = electrodes.flatMap(({ chainageM, role }) =>
    chainageM === null || role !== 'probe' ? [] : [chainageM],
  );
  return {
    line: name,
    electrodesM: [...new Set(electrodesM)],
    candidates: candidates
      .flatMap((candidate) => {
        const here = candidate.crossings.find((crossing) => crossing.line === name);
        return here ? [{ ...candidate, chainageM: here.chainageM }] : [];
      })
      .map(({ chainageM, depthM, radiusM, kind, verdict }) => ({
        chainageM,
        depthM,
        radiusM,
        words: `a ${kind}, ${VERDICT_WORDS[verdict]}`,
        isVoid: verdict === 'void_like',
      })),
    // Passages are what karst mostly has; chambers are in the table.
    findable: findable.filter((place) => place.line === name && place.kind === 'passage'),
  };
}
