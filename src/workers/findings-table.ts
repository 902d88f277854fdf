import { appraise, newMemory } from '../appraise';
import { disclose } from '../discretion/disclose';
import { settingsOf } from '../evidence/settings';
import { readSurveyFile } from '../exchange/read/survey-file';
import { geojsonText } from '../exchange/write/geojson';
import { type Drape, joinLayers, type LayerName, type LineLayers } from '../exchange/write/layer-collection';
import { buildLineLayers } from '../exchange/write/layers';
import type { Findings, LineFindings, Settings } from '../findings';
import { type Change, commit } from '../survey/commit';
import type { Note } from '../survey/note';
import type { Site, Survey } from '../survey/survey';

export interface OpenedSurvey {
  readonly survey: Survey | null;
  readonly notes: readonly Note[];
}

/** Findings and layers of one line. */
export interface LinePart {
  readonly line: LineFindings;
  readonly layers: LineLayers;
}

/** Findings by line: a line that did not change since is the same object as before. */
export interface Parts {
  readonly common: Omit<Findings, 'lines'>;
  readonly lines: readonly LinePart[];
}

/** What the findings worker can be asked. Plain data in, plain data out. */
export interface FindingsTable {
  /** Reads a survey document and keeps it for what follows. A document with faults is not kept. */
  open(bytes: Uint8Array, file: string): OpenedSurvey;
  /** Keeps a survey that the page has, in place of the one that was open. */
  take(survey: Survey, drape: Drape): Parts;
  /** Applies an edit to the survey that is open; lines that it does not touch are not computed again. */
  change(change: Change, drape: Drape): Parts;
  /** Findings and layers of the survey that is open. */
  compute(drape: Drape): Parts;
  /** A layer of the survey that is open, as the text that the command line writes into its file. */
  layerText(name: LayerName, drape: Drape): string;
}

export function createFindingsTable(): FindingsTable {
  let survey: Survey | null = null;
  let settings: { readonly site: Site; readonly value: Settings } | null = null;
  let last: { readonly drape: Drape; readonly parts: Parts } | null = null;
  const memory = newMemory();
  const drawn: Record<Drape, WeakMap<LineFindings, LinePart>> = { midpoint: new WeakMap(), probes: new WeakMap() };

  function settingsFor({ site }: Survey): Settings {
    if (settings?.site === site) return settings.value;
    const said = settingsOf(site);
    if (!said.ok) throw new Error(said.sentence);
    settings = { site, value: said.value };
    return said.value;
  }

  function compute(drape: Drape): Parts {
    if (!survey) throw new Error('No survey is open.');
    if (last?.drape === drape) return last.parts;
    const findings = appraise(survey, settingsFor(survey), memory);
    const disclosed = disclose(survey, findings, 'surveyor');
    const lines = findings.lines.map((line) => {
      const part = drawn[drape].get(line) ?? { line, layers: buildLineLayers(disclosed, line, { drape }) };
      drawn[drape].set(line, part);
      return part;
    });
    const { lines: _lines, ...common } = findings;
    const parts = { common, lines };
    last = { drape, parts };
    return parts;
  }

  function replace(next: Survey): void {
    survey = next;
    last = null;
  }

  return {
    open(bytes, file) {
      const read = readSurveyFile(bytes, file);
      if (read.survey) replace(read.survey);
      return read;
    },
    take(taken, drape) {
      replace(taken);
      return compute(drape);
    },
    change(change, drape) {
      if (!survey) throw new Error('No survey is open.');
      replace(commit(survey, change).survey);
      return compute(drape);
    },
    compute,
    layerText: (name, drape) => geojsonText(joinLayers(compute(drape).lines.map(({ layers }) => layers))[name]),
  };
}
