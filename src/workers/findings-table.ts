import { appraise, newMemory } from '../appraise';
import { disclose } from '../discretion/disclose';
import { settingsOf } from '../evidence/settings';
import { readSurveyFile } from '../exchange/read/survey-file';
import { geojsonText } from '../exchange/write/geojson';
import { buildLayers, type Drape, type LayerName, type Layers } from '../exchange/write/layers';
import type { Findings } from '../findings';
import { type Change, commit } from '../survey/commit';
import type { Note } from '../survey/note';
import type { Survey } from '../survey/survey';

export interface OpenedSurvey {
  readonly survey: Survey | null;
  readonly notes: readonly Note[];
}

export interface Computed {
  readonly findings: Findings;
  readonly layers: Layers;
}

/** What the findings worker can be asked. Plain data in, plain data out. */
export interface FindingsTable {
  /** Reads a survey document and keeps it for what follows. A document with faults is not kept. */
  open(bytes: Uint8Array, file: string): OpenedSurvey;
  /** Keeps a survey that the page has, in place of the one that was open. */
  take(survey: Survey, drape: Drape): Computed;
  /** Applies an edit to the survey that is open; lines that it does not touch are not computed again. */
  change(change: Change, drape: Drape): Computed;
  /** Findings and layers of the survey that is open. */
  compute(drape: Drape): Computed;
  /** A layer of the survey that is open, as the text that the command line writes into its file. */
  layerText(name: LayerName, drape: Drape): string;
}

export function createFindingsTable(): FindingsTable {
  let survey: Survey | null = null;
  const memory = newMemory();
  let last: { drape: Drape; computed: Computed } | null = null;

  function compute(drape: Drape): Computed {
    if (!survey) throw new Error('No survey is open.');
    if (last?.drape === drape) return last.computed;
    const settings = settingsOf(survey.site);
    if (!settings.ok) throw new Error(settings.sentence);
    const findings = appraise(survey, settings.value, memory);
    const computed = { findings, layers: buildLayers(disclose(survey, findings, 'surveyor'), { drape }) };
    last = { drape, computed };
    return computed;
  }

  return {
    open(bytes, file) {
      const read = readSurveyFile(bytes, file);
      if (read.survey) {
        survey = read.survey;
        last = null;
      }
      return read;
    },
    take(taken, drape) {
      survey = taken;
      last = null;
      return compute(drape);
    },
    change(change, drape) {
      if (!survey) throw new Error('No survey is open.');
      survey = commit(survey, change).survey;
      last = null;
      return compute(drape);
    },
    compute,
    layerText: (name, drape) => geojsonText(compute(drape).layers[name]),
  };
}
