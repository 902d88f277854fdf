import * as z from 'zod/mini';
import { done, type Outcome, refuse } from './outcome';
import { SURVEY_FORMAT, SURVEY_VERSION, type Survey, survey as surveySchema } from './survey';

type Document = Record<string, unknown>;

/** One step per version that has been: from version n to n + 1. Version 1 is the first, so there is none yet. */
export type Upgrades = Readonly<Record<number, (document: Document) => Document>>;
const UPGRADES: Upgrades = {};

/**
 * A survey document of any version, brought to the present one and checked.
 * Unknown keys are kept. Refusals: `not_a_survey`, `newer_version`, `no_upgrade`, `invalid_survey` (says where).
 */
export function readSurveyDocument(document: unknown, upgrades: Upgrades = UPGRADES): Outcome<Survey> {
  if (typeof document !== 'object' || document === null || (document as Document).format !== SURVEY_FORMAT) {
    return refuse('not_a_survey', `This is not a survey: the key "format" has to be "${SURVEY_FORMAT}".`);
  }
  if (isDeeperThan(document, DEEPEST)) {
    return refuse('not_a_survey', `The document is nested more than ${DEEPEST} deep, which no survey is.`);
  }
  let current = document as Document;
  const version = current.version;
  if (typeof version !== 'number' || !Number.isInteger(version)) {
    return refuse('not_a_survey', 'The survey does not say which version it is: "version" has to be a whole number.');
  }
  if (version > SURVEY_VERSION) {
    return refuse(
      'newer_version',
      `The survey was written by a newer program (version ${version}; this one reads up to ${SURVEY_VERSION}). Update the program; the file is unharmed.`,
    );
  }
  for (let v = version; v < SURVEY_VERSION; v += 1) {
    const step = upgrades[v];
    if (!step) return refuse('no_upgrade', `Version ${v} of the survey format was never published.`);
    current = { ...step(current), version: v + 1 };
  }
  const parsed = surveySchema.safeParse(current);
  if (parsed.success) return done(parsed.data as Survey);
  const first = parsed.error.issues[0];
  const where = first?.path.join('.') || 'the document';
  return refuse('invalid_survey', `The survey is damaged at ${where}: ${first?.message ?? 'not readable'}.`);
}

/** Unknown keys are kept, and so may hold anything: but what is kept has to be written again. */
const DEEPEST = 100;

function isDeeperThan(document: unknown, levels: number): boolean {
  let layer: unknown[] = [document];
  for (let depth = 0; layer.length > 0; depth += 1) {
    if (depth > levels) return true;
    const below: unknown[] = [];
    for (const value of layer) {
      if (typeof value !== 'object' || value === null) continue;
      for (const part of Object.values(value)) if (typeof part === 'object' && part !== null) below.push(part);
    }
    layer = below;
  }
  return false;
}

/** The JSON Schema (draft 2020-12) of `*.survey.json`. */
export function surveyJsonSchema(): object {
  return { title: 'Hollowline survey', ...z.toJSONSchema(surveySchema, { io: 'input' }) };
}
