import type { SheetRow } from './sheet';

/** A text parted into headers and rows, before any column is understood. */
export interface LaidOut {
  readonly delimiter: string;
  /** Line of the file with the headers; null without one. */
  readonly headerRow: number | null;
  /** One a column: as written, or numbers from 1 where no row holds headers. */
  readonly headers: readonly string[];
  readonly body: readonly SheetRow[];
}
