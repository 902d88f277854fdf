import type { Note } from '../survey/note';

/** What ends a command with exit code 2: one line each on stderr. */
export class BadInput extends Error {
  constructor(readonly lines: readonly string[]) {
    super(lines.join('\n'));
  }
}

const LONGEST_READ = 60;

/** Control characters would let a hostile cell rewrite the terminal. */
function printable(text: string): string {
  const clean = text.replace(/\p{C}/gu, '\u00b7');
  return clean.length > LONGEST_READ ? `${clean.slice(0, LONGEST_READ)}…` : clean;
}

/** `FILE:ROW:COLUMN: read "…"; expected …` */
export function faultLine({ file, row, column, read, expected }: Note): string {
  return `${printable(file)}:${row ?? 1}:${printable(column ?? '1')}: read "${printable(read)}"; expected ${expected}`;
}
