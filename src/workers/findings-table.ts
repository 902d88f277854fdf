import { appraise, newMemory } from '../appraise';
import { type Disclosed, disclose } from '../discretion/disclose';
import { settingsOf } from '../evidence/settings';
import { readSurveyFile } from '../exchange/read/survey-file';
import { encoded } from '../exchange/write/encoded';
import { layerPieces } from '../exchange/write/geojson';
import type { Distance, Drape, LayerName, LineLayers } from '../exchange/write/layer-collection';
import { buildLayers, buildLineLayers, buildSurveyLayers } from '../exchange/write/layers';
import type { Findings, LineFindings, Settings } from '../findings';
import type { VoidSearchResult } from '../studies/void-search-answer';
import { type Change, commit } from '../survey/commit';
import type { SurveyId } from '../survey/ids';
import type { Note } from '../survey/note';
import type { Site, Survey } from '../survey/survey';
import type { ByLine } from './parts';

export interface OpenedSurvey {
  /** The survey that is open now; null where the document is none. */
  readonly surveyId: SurveyId | null;
  readonly notes: readonly Note[];
}

/** What the findings worker can be asked. Plain data in, plain data out. */
export interface FindingsTable {
  /** Reads a survey document and keeps it for what follows. A document with faults is not kept. */
  open(bytes: Uint8Array, file: string): OpenedSurvey;
  /** The survey that is open. */
  survey(): Survey;
  /** Keeps a survey that the page has, in place of the one that was open. */
  take(survey: Survey): void;
  /** Applies an edit to the survey that is open; lines that it does not touch are not computed again. */
  change(change: Change): void;
  /** Takes the answer to a search into account for as long as the lines that it searched stay as they are. */
  search(result: VoidSearchResult): void;
  /** Of the survey that is open. A line that did not change since is the same object as before. */
  findings(): Findings;
  /** Layers of each line as the map draws them; a line that did not change since is the same object as before. */
  drawn(drape: Drape, distance: Distance): ByLine<LineLayers>;
  /** A layer of the survey that is open, as the bytes that the command line writes into its file. */
  layerFile(name: LayerName, drape: Drape): Blob;
}

/** The part of the layers that belongs to no one line. */
const WHOLE_SURVEY = 'survey';

export function createFindingsTable(): FindingsTable {
  let survey: Survey | null = null;
  let settings: { readonly site: Site; readonly value: Settings } | null = null;
  let disclosed: Disclosed | null = null;
  let searched: readonly { readonly result: VoidSearchResult; readonly lines: readonly LineFindings[] }[] = [];
  const memory = newMemory();
  const drawn = new Map<string, WeakMap<LineFindings, LineLayers>>();

  function settingsFor({ site }: Survey): Settings {
    if (settings?.site === site) return settings.value;
    const said = settingsOf(site);
    if (!said.ok) throw new Error(said.sentence);
    settings = { site, value: said.value };
    return said.value;
  }

  function disclosedNow(): Disclosed {
    const open = surveyNow();
    disclosed ??= disclose(open, appraisedWithSearches(open), 'surveyor');
    return disclosed;
  }

  /** A search was of lines as they were: an answer about other readings is no answer. */
  function appraisedWithSearches(open: Survey): Findings {
    const plain = appraise(open, settingsFor(open), memory);
    const now = new Set(plain.lines);
    searched = searched.filter(({ lines }) => lines.every((line) => now.has(line)));
    if (searched.length === 0) return plain;
    return appraise(open, settingsFor(open), memory, { searches: searched.map(({ result }) => result) });
  }

  function surveyNow(): Survey {
    if (!survey) throw new Error('No survey is open.');
    return survey;
  }

  function drawnLines(drape: Drape, distance: Distance): ByLine<LineLayers> {
    const way = `${drape} ${distance}`;
    const known = drawn.get(way) ?? new WeakMap<LineFindings, LineLayers>();
    drawn.set(way, known);
    const disclosed = disclosedNow();
    const lines = disclosed.findings.lines.map((line) => {
      const layers = known.get(line) ?? buildLineLayers(disclosed, line, { drape, drawn: distance });
      known.set(line, layers);
      return [line.lineId, layers] as const;
    });
    return [...lines, [WHOLE_SURVEY, buildSurveyLayers(disclosed, { drape, drawn: distance })]];
  }

  function replace(next: Survey): void {
    survey = next;
    disclosed = null;
  }

  return {
    open(bytes, file) {
      const read = readSurveyFile(bytes, file);
      if (read.survey) replace(read.survey);
      return { surveyId: read.survey?.id ?? null, notes: read.notes };
    },
    survey: surveyNow,
    take: replace,
    change: (change) => replace(commit(surveyNow(), change).survey),
    search(result) {
      const { lines } = disclosedNow().findings;
      const own = lines.filter(({ name }) => result.lines.includes(name));
      // A newer answer about any of the lines takes the place of the older one.
      const others = searched.filter(({ lines: of }) => !of.some((line) => own.includes(line)));
      searched = [...others, { result, lines: own }];
      disclosed = null;
    },
    findings: () => disclosedNow().findings,
    drawn: drawnLines,
    layerFile: (name, drape) => new Blob([...encoded(layerPieces(buildLayers(disclosedNow(), { drape })[name]))]),
  };
}
