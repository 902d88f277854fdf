import { COLLECTIONS } from '../../survey/commit';
import type { Note } from '../../survey/note';
import type { Survey } from '../../survey/survey';
import { readSurveyDocument } from '../../survey/versions';
import { decodeText } from './decode';
import { Notebook } from './notebook';
import { visible } from './sheet';

/**
 * Reads a `*.survey.json` of any version.
 * `survey` is null with one fault when the bytes are no text, no JSON, or no survey (it says where), and with a fault each
 * for ids that stand twice or point nowhere. Control characters in names are let in, unlike in tables: the file may be the
 * only copy of what a person entered, and whoever shows a name makes it harmless.
 */
export function readSurveyFile(
  bytes: Uint8Array,
  file: string,
): { readonly survey: Survey | null; readonly notes: Note[] } {
  const refused = (read: string, expected: string, sentence: string) => ({
    survey: null,
    notes: [
      { kind: 'fault' as const, file, row: null, column: null, read, expected, sentence: `${file}: ${sentence}` },
    ],
  });
  const decoded = decodeText(bytes);
  if (!decoded.ok) {
    const read = decoded.code === 'workbook' ? 'a zipped file' : 'bytes that are no text';
    return refused(read, `a survey; ${decoded.sentence}`, decoded.sentence);
  }
  if (decoded.value.guessed) {
    return refused(decoded.value.encoding, 'UTF-8', 'A survey is UTF-8 text; this file is not and may be damaged.');
  }
  let document: unknown;
  try {
    document = JSON.parse(decoded.value.text);
  } catch (error) {
    const why = error instanceof Error ? error.message : 'it cannot be parsed';
    return refused(decoded.value.text.trim().slice(0, 40), `JSON; ${why}`, `This is not JSON: ${why}.`);
  }
  const outcome = readSurveyDocument(document);
  if (!outcome.ok) return refused(outcome.code, `a survey; ${outcome.sentence}`, outcome.sentence);
  const notes = new Notebook(file);
  checkPointers(outcome.value, notes);
  return { survey: notes.troubles > 0 ? null : outcome.value, notes: [...notes.all()] };
}

/** A fault at a key of the document, named as a path such as `readings.4.line`. */
function tell(notes: Notebook, path: string, read: string, expected: string): void {
  notes.fault(
    { row: null, column: path },
    visible(read),
    `${expected} at ${path}`,
    `${notes.label}: ${path} says "${visible(read)}"; it has to be ${expected}.`,
  );
}

/** Ids that stand twice, and those that are named and do not stand anywhere. Retired entities may still be named. */
function checkPointers(survey: Survey, notes: Notebook): void {
  for (const collection of COLLECTIONS) checkUnique(survey[collection], collection, notes);
  survey.lines.forEach((line, i) => {
    checkUnique(line.path, `lines.${i}.path`, notes);
  });
  const lines = new Set<string>(survey.lines.map(({ id }) => id));
  const outings = new Set<string>(survey.outings.map(({ id }) => id));
  survey.readings.forEach(({ line, outing }, i) => {
    if (!lines.has(line)) tell(notes, `readings.${i}.line`, line, 'the id of a line of this survey');
    if (typeof outing === 'string' && !outings.has(outing)) {
      tell(notes, `readings.${i}.outing`, outing, 'the id of an outing of this survey');
    }
  });
  survey.references.forEach(({ stations, serves }, i) => {
    stations.forEach(({ line }, j) => {
      if (lines.has(line)) return;
      tell(notes, `references.${i}.stations.${j}.line`, line, 'the id of a line of this survey');
    });
    serves?.forEach((line, j) => {
      if (!lines.has(line)) tell(notes, `references.${i}.serves.${j}`, line, 'the id of a line of this survey');
    });
  });
  survey.lines.forEach(({ path }, i) => {
    path.forEach((item, j) => {
      if (item.kind !== 'offset' || lines.has(item.base_line)) return;
      tell(notes, `lines.${i}.path.${j}.base_line`, item.base_line, 'the id of a line of this survey');
    });
  });
}

function checkUnique(members: readonly { readonly id: string }[], path: string, notes: Notebook): void {
  const ids = new Set<string>();
  for (const { id } of members) ids.add(id);
  if (ids.size === members.length) return;
  const seen = new Set<string>();
  members.forEach(({ id }, i) => {
    if (seen.has(id)) tell(notes, `${path}.${i}.id`, id, 'an id that stands only once');
    seen.add(id);
  });
}
