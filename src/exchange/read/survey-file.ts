import type { Note } from '../../survey/note';
import type { Survey } from '../../survey/survey';
import { readSurveyDocument } from '../../survey/versions';
import { decodeText } from './decode';

/**
 * Reads a `*.survey.json` of any version.
 * `survey` is null with one fault when the bytes are no text, no JSON, or no survey (the sentence says where).
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
  if (!decoded.ok) return refused('bytes that are no text', 'a survey', decoded.sentence);
  if (decoded.value.guessed) {
    return refused(decoded.value.encoding, 'UTF-8', 'A survey is UTF-8 text; this file is not and may be damaged.');
  }
  let document: unknown;
  try {
    document = JSON.parse(decoded.value.text);
  } catch (error) {
    const why = error instanceof Error ? error.message : 'it cannot be parsed';
    return refused(decoded.value.text.trim().slice(0, 40), 'JSON', `This is not JSON: ${why}.`);
  }
  const outcome = readSurveyDocument(document);
  return outcome.ok ? { survey: outcome.value, notes: [] } : refused(outcome.code, 'a survey', outcome.sentence);
}
