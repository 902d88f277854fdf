/** Another page has written to the survey behind what this one knows. Nothing was written. */
export class WrittenElsewhere extends Error {
  override readonly name = 'WrittenElsewhere';
  constructor() {
    super('another tab has written to this survey');
  }
}

/** The survey is not on this device any more: what is stored for this page was deleted. Nothing was written. */
export class NotKeptHere extends Error {
  override readonly name = 'NotKeptHere';
  constructor() {
    super('the survey is not on this device any more');
  }
}

const nameOf = (error: unknown): string => (error instanceof Error || error instanceof DOMException ? error.name : '');

/** Browsers drop the handle of a page in the background; a second try with a fresh one succeeds. */
export const isDropped = (error: unknown): boolean =>
  ['InvalidStateError', 'UnknownError', 'TransactionInactiveError', 'AbortError'].includes(nameOf(error));

/** Why something could not be kept, as a person can use it. */
export function whyNot(error: unknown): string {
  switch (nameOf(error)) {
    case 'QuotaExceededError':
      return 'the space for this page is full: delete what you do not need from this device';
    case 'VersionError':
      return 'a newer version of this page has been used here: reload the page';
    default:
      return error instanceof Error ? error.message : String(error);
  }
}
