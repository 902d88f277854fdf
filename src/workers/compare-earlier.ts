import { appraise } from '../appraise';
import { settingsOf } from '../evidence/settings';
import { isPack, readPack } from '../exchange/read/pack';
import type { NamedBytes } from '../exchange/read/tables';
import type { Findings } from '../findings';
import { type Comparison, compareSurveys } from '../studies/compare';
import { type DaySpan, dayOrder, daySpan } from '../studies/compare-days';
import { comparisonSentences } from '../studies/compare-words';
import type { Tick } from '../studies/study-key';
import type { Note } from '../survey/note';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import { createImportTable } from './import-table';

export interface CompareQuestion {
  /** A survey that the page has, or the files of one: a survey document, a pack, or tables. */
  readonly earlier: { readonly survey: Survey } | { readonly files: readonly NamedBytes[] };
  readonly after: Findings;
  readonly afterDays: DaySpan | null;
}

export interface CompareAnswer {
  /** What the earlier survey is called. */
  readonly earlier: string;
  readonly comparison: Comparison;
  readonly sentences: readonly string[];
}

/** Shares of the work, by rough measure: reading, appraising, matching. */
const [READ, APPRAISED] = [0.15, 0.6];

/** Appraises an earlier survey and lays the later one beside it. Refusals: files that are no survey, bad settings. */
export function compareWithEarlier({ earlier, after, afterDays }: CompareQuestion, tick: Tick): Outcome<CompareAnswer> {
  const read = 'survey' in earlier ? done(earlier.survey) : surveyFrom(earlier.files);
  if (!read.ok) return read;
  tick(READ);
  const settings = settingsOf(read.value.site);
  if (!settings.ok) return settings;
  const before = appraise(read.value, settings.value);
  tick(APPRAISED);
  const comparison = compareSurveys(before, after, (share) => tick(APPRAISED + (1 - APPRAISED) * share));
  const order = dayOrder(daySpan(read.value), afterDays);
  return done({ earlier: read.value.site.name, comparison, sentences: comparisonSentences(comparison, order) });
}

function surveyFrom(files: readonly NamedBytes[]): Outcome<Survey> {
  const [only] = files;
  if (!only) return refuse('no_file', 'No file was chosen.');
  if (files.length === 1 && isPack(only.bytes)) return taken(readPack(only.bytes, only.name));
  const table = createImportTable();
  const looked = table.look(files, null);
  if (looked.kind === 'survey') return taken(looked);
  const siteName = only.name.replace(/\.[^.]+$/, '');
  return taken(table.take(looked.columns, { into: null, siteName, seed: 'earlier' }));
}

function taken({ survey, notes }: { survey: Survey | null; notes: readonly Note[] }): Outcome<Survey> {
  const fault = notes.find(({ kind }) => kind === 'fault');
  if (survey && !fault) return done(survey);
  const why = fault ? ` ${fault.sentence}` : '';
  return refuse('no_survey', `This cannot be read as a survey by itself.${why} Bring it in under Record first.`);
}
