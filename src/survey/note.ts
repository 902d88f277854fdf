/**
 * What a reader has to say about what it read.
 * `fault`: it cannot be taken as it stands; nothing is written while one remains.
 * `skipped`: left out on purpose. `guessed`: taken in a meaning that was not spelt out.
 */
export interface Note {
  readonly kind: 'fault' | 'skipped' | 'guessed';
  readonly file: string;
  /** 1 = the first line of the file; null when the note is about the whole file. */
  readonly row: number | null;
  /** The header of the column as written, or its number from 1 where there is none; null = the whole row. */
  readonly column: string | null;
  readonly read: string;
  readonly expected: string;
  /** The same for a person, complete in itself. */
  readonly sentence: string;
}

/** A note as documents carry it. */
export const noteAsWritten = ({ file, row, column, read, expected, sentence }: Note) => ({
  file,
  row,
  column,
  read,
  expected,
  sentence,
});
