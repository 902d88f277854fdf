import { appraise } from '../appraise';
import { disclose } from '../discretion/disclose';
import { settingsOf } from '../evidence/settings';
import { readSurveyFile } from '../exchange/read/survey-file';
import { geojsonText } from '../exchange/write/geojson';
import { buildLayers, type Drape, type LayerName, type Layers } from '../exchange/write/layers';
import type { Findings } from '../findings';
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
  /** Findings and layers of the survey that is open. */
  compute(drape: Drape): Computed;
  /** A layer of the survey that is open, as the text that the command line writes into its file. */
  layerText(name: LayerName, drape: Drape): string;
}

export function createFindingsTable(): FindingsTable {
  let survey: Survey | null = null;
  let last: { drape: Drape; computed: Computed } | null = null;

  function compute(drape: Drape): Computed {
    if (!survey) throw new Error('No survey is open.');
    if (last?.drape === drape) return last.computed;
    const settings = settingsOf(survey.site);
    if (!settings.ok) throw new Error(settings.sentence);
    const findings = appraise(survey, settings.value);
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
    compute,
    layerText: (name, drape) => geojsonText(compute(drape).layers[name]),
  };
}
