import type { Note } from '../../survey/note';
import { baseName } from './columns';

/** Faults of one file that are told one by one; the rest is counted. */
export const FAULTS_TOLD = 200;
/** Longest piece of a cell that a note repeats. */
const READ_LENGTH = 60;

/** Where a note belongs. Columns are headers as written, or numbers from 1. */
export interface Where {
  readonly row: number | null;
  readonly column: string | null;
}

/** Collects what is to be said about one file. */
export class Notebook {
  private readonly notes: Note[] = [];
  private readonly saidOnce = new Set<string>();
  private faultCount = 0;
  private troubleCount = 0;

  /** @param file the name as it was given, a path or a base name */
  constructor(readonly file: string) {}

  /** The file in sentences, without its folders. */
  get label(): string {
    return baseName(this.file);
  }

  /** Grows with every fault, also with one that is told only once: a row during which it grew is not to be used. */
  get troubles(): number {
    return this.troubleCount;
  }

  fault(where: Where, read: string, expected: string, sentence: string): void {
    this.troubleCount += 1;
    this.faultCount += 1;
    if (this.faultCount <= FAULTS_TOLD) this.add('fault', where, read, expected, sentence);
  }

  /** A fault that would be the same in every row: told at the first one. */
  faultOnce(key: string, where: Where, read: string, expected: string, sentence: string): void {
    if (this.first(key)) this.fault(where, read, expected, sentence);
    else this.troubleCount += 1;
  }

  /** Whether a further fault would be told, so that help for it is worth working out. */
  get tellsMore(): boolean {
    return this.faultCount < FAULTS_TOLD;
  }

  guessed(where: Where, read: string, expected: string, sentence: string): void {
    this.add('guessed', where, read, expected, sentence);
  }

  guessedOnce(key: string, where: Where, read: string, expected: string, sentence: string): void {
    if (this.first(key)) this.guessed(where, read, expected, sentence);
  }

  skipped(where: Where, read: string, expected: string, sentence: string): void {
    this.add('skipped', where, read, expected, sentence);
  }

  skippedOnce(key: string, where: Where, read: string, expected: string, sentence: string): void {
    if (this.first(key)) this.skipped(where, read, expected, sentence);
  }

  /** Every note in the order of making, with a last fault for those beyond the limit. */
  all(): readonly Note[] {
    const untold = this.faultCount - FAULTS_TOLD;
    if (untold <= 0) return this.notes;
    return [
      ...this.notes,
      {
        kind: 'fault',
        file: this.file,
        row: null,
        column: null,
        read: `${untold} more faults`,
        expected: 'none',
        sentence: `${this.label} has ${untold} more faults of the kinds above. Mend those first and read it again.`,
      },
    ];
  }

  private first(key: string): boolean {
    if (this.saidOnce.has(key)) return false;
    this.saidOnce.add(key);
    return true;
  }

  private add(kind: Note['kind'], where: Where, read: string, expected: string, sentence: string): void {
    const short = read.length > READ_LENGTH ? `${read.slice(0, READ_LENGTH - 1)}…` : read;
    this.notes.push({ kind, file: this.file, row: where.row, column: where.column, read: short, expected, sentence });
  }
}
