import type { Note } from '../survey/note';

/** What ends a command with exit code 2: one line each on stderr. */
export class BadInput extends Error {
  readonly lines: readonly string[];

  constructor(lines: readonly string[]) {
    super(lines.join('\n'));
    this.lines = lines.map(printable);
  }
}

const LONGEST_READ = 60;

/** One line for a terminal: control characters would let a hostile name rewrite it, line breaks would fake lines. */
export const printable = (text: string): string => text.replace(/\p{C}/gu, '\u00b7');

const shortened = (text: string): string => (text.length > LONGEST_READ ? `${text.slice(0, LONGEST_READ)}…` : text);

/** `FILE:ROW:COLUMN: read "…"; expected …` */
export function faultLine({ file, row, column, read, expected }: Note): string {
  return `${file}:${row ?? 1}:${shortened(column ?? '1')}: read "${shortened(read)}"; expected ${expected}`;
}

/** A fault of the command itself or of the file system, in the same form. */
export const faultOf = (what: string, column: string, read: string, expected: string): BadInput =>
  new BadInput([`${what}:1:${column}: read "${shortened(read)}"; expected ${expected}`]);

const REASONS: Record<string, string> = {
  EACCES: 'permission to read or write it',
  EPERM: 'permission to read or write it',
  EISDIR: 'a file, not a folder',
  ENOTDIR: 'a folder there, not a file',
  EEXIST: 'a folder there, not a file',
  ENOENT: 'something there (or the place that the link points to)',
  ELOOP: 'a link that leads somewhere',
  ENOSPC: 'room on the disk',
  EDQUOT: 'room in your share of the disk',
  EFBIG: 'permission to write a file as large as this',
  EMFILE: 'fewer files open at once',
  EIO: 'a disk that answers',
  EXDEV: 'a folder on one disk',
  EBUSY: 'a file that nothing else holds open',
  ENOTEMPTY: 'a folder that nothing else writes into',
  ERR_FS_FILE_TOO_LARGE: 'a file below 2 GB',
  ERR_STRING_TOO_LONG: 'a file below 500 MB',
  EROFS: 'a place that can be written to',
  ENAMETOOLONG: 'a shorter name',
};

/** What the file system refused, as bad input; null for anything else. */
export function asFileFault(error: unknown): BadInput | null {
  const { code, path, syscall } = error as NodeJS.ErrnoException;
  if (!(error instanceof Error) || code === undefined) return null;
  // Systems have more refusals than this table; each of them names the call that was refused.
  const reason = REASONS[code] ?? (syscall === undefined ? undefined : `the system to allow "${syscall}"`);
  return reason === undefined ? null : faultOf(path ?? 'output', '1', code, reason);
}
