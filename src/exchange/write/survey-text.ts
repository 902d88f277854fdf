import type { Disclosed } from '../../discretion/disclose';

/** The survey document: the text of a `*.survey.json`, with everything that the audience may see. */
export const surveyText = (disclosed: Disclosed): string => [...surveyPieces(disclosed)].join('');

/** The same text, made piece by piece as it is asked for: that of a large survey never stands in memory as a whole. */
export function* surveyPieces({ survey }: Disclosed): Generator<string> {
  let before = '{\n';
  for (const [key, value] of Object.entries(survey)) {
    if (value === undefined) continue;
    yield `${before} ${JSON.stringify(key)}: `;
    if (Array.isArray(value) && value.length > 0) yield* listPieces(value);
    else yield indented(value).slice(HEAD.length, -TAIL.length);
    before = ',\n';
  }
  yield `\n}\n`;
}

const ENTITIES_OF_A_PIECE = 100;

function* listPieces(entities: readonly unknown[]): Generator<string> {
  for (let from = 0; from < entities.length; from += ENTITIES_OF_A_PIECE) {
    const rows = indented(entities.slice(from, from + ENTITIES_OF_A_PIECE));
    yield `${from === 0 ? '[' : ','}${rows.slice(HEAD.length + 1, -(TAIL.length + LIST_TAIL.length))}`;
  }
  yield LIST_TAIL;
}

/** A value as it is written as a property of the document, between `HEAD` and `TAIL`. */
const indented = (value: unknown): string => JSON.stringify({ '': value }, null, 1);
const HEAD = '{\n "": ';
const TAIL = '\n}';
const LIST_TAIL = '\n ]';
