import { behind, type Database } from './database';
import type { EntryRow } from './rows';
import type { SecondCopy } from './second-copy';

/** Brings the second copy to where the database is. What cannot be copied now is copied with the next change. */
export interface Copying {
  /** After a change was written. */
  add(database: Database, entry: EntryRow): Promise<void>;
  /** The whole survey anew: when it is first kept, and when its journal was made shorter. */
  anew(database: Database, key: string): Promise<void>;
}

/** After so many failures in a row nobody is made to wait for another one until the page is opened again. */
const GIVEN_UP = 3;

export function createCopying(secondCopy: SecondCopy | null): Copying {
  if (!secondCopy) return { add: async () => undefined, anew: async () => undefined };
  /** How far the copy of a survey goes, as far as this page knows. */
  const copied = new Map<string, number>();
  let failures = 0;
  const write = async (key: string, rows: readonly object[], toSeq: number, isAnew: boolean): Promise<void> => {
    copied.delete(key);
    const isWritten = await secondCopy.write(key, rows, isAnew);
    failures = isWritten ? 0 : failures + 1;
    if (isWritten) copied.set(key, toSeq);
  };
  const anew = async (database: Database, key: string): Promise<void> => {
    if (failures >= GIVEN_UP) return;
    const [bases, entries] = await Promise.all([
      database.getAll('bases', behind(key, -1)),
      database.getAll('journal', behind(key, -1)),
    ]);
    const toSeq = entries.at(-1)?.seq ?? bases.at(-1)?.seq;
    if (toSeq !== undefined) await write(key, [...bases, ...entries], toSeq, true);
  };
  return {
    anew,
    async add(database, entry) {
      if (failures >= GIVEN_UP) return;
      const { of: key, seq } = entry;
      const from = copied.get(key) ?? (await secondCopy.lastSeq(key));
      if (from === null || from > seq) return anew(database, key);
      const rows = from === seq - 1 ? [entry] : await database.getAll('journal', behind(key, from));
      await write(key, rows, seq, false);
    },
  };
}
