import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB } from 'idb';
import { type BaseRow, type EntryRow, type HeadRow, makeBase, makeEntry, type SetAsideRow } from './rows';

/** Surveys on a device: a base now and then, every change since the base before it, and what was found damaged. */
export interface KeptSchema extends DBSchema {
  heads: { key: string; value: HeadRow };
  bases: { key: [string, number]; value: BaseRow };
  journal: { key: [string, number]; value: EntryRow };
  quarantine: { key: [string, string, number]; value: SetAsideRow };
  /** `open`: the key of the survey that was open last. */
  marks: { key: string; value: string };
}

/** As it was in version 1 of the database: objects as they are, without numbers or digests. */
interface FirstSchema extends DBSchema {
  surveys: { key: string; value: { key: string; name?: string; survey?: unknown } };
  changes: { key: number; value: { of?: string; change?: unknown } };
}

/** A change is told as kept when it is on the disk, not only on its way there. */
export const STRICT = { durability: 'strict' } as const;

const VERSION = 2;

export type Database = IDBPDatabase<KeptSchema>;
type Upgrading = IDBPTransaction<
  KeptSchema,
  ('heads' | 'bases' | 'journal' | 'quarantine' | 'marks')[],
  'versionchange'
>;

export interface DatabaseEvents {
  /** A page of an older version keeps the database from being opened. */
  readonly onBlocked: () => void;
  /** The handle is of no use any more: the browser has dropped it, or a newer page wants to change the database. */
  readonly onLost: () => void;
}

export function openDatabase(
  name: string,
  now: () => string,
  { onBlocked, onLost }: DatabaseEvents,
): Promise<Database> {
  return openDB<KeptSchema>(name, VERSION, {
    async upgrade(database, oldVersion, _newVersion, transaction) {
      database.createObjectStore('heads', { keyPath: 'key' });
      database.createObjectStore('bases', { keyPath: ['of', 'seq'] });
      database.createObjectStore('journal', { keyPath: ['of', 'seq'] });
      database.createObjectStore('quarantine', { keyPath: ['of', 'what', 'seq'] });
      if (oldVersion === 0) database.createObjectStore('marks');
      else await fromFirst(database, transaction as unknown as Upgrading, now());
    },
    blocked: onBlocked,
    blocking(_current, _wanted, event) {
      (event.target as IDBDatabase).close();
      onLost();
    },
    terminated: onLost,
  });
}

/** All of it or, if it breaks off, nothing: it is one transaction. */
async function fromFirst(database: Database, transaction: Upgrading, at: string): Promise<void> {
  const old = transaction as unknown as IDBPTransaction<FirstSchema, ('surveys' | 'changes')[], 'versionchange'>;
  const lastSeq = new Map<string, number>();
  for (const { of, change } of await old.objectStore('changes').getAll()) {
    const key = String(of);
    const seq = (lastSeq.get(key) ?? 0) + 1;
    lastSeq.set(key, seq);
    await transaction
      .objectStore('journal')
      .put(makeEntry({ of: key, seq, at, kind: 'do', writer: 'version 1' }, change));
  }
  const surveys = await old.objectStore('surveys').getAll();
  for (const { key, survey } of surveys) await transaction.objectStore('bases').put(makeBase(key, 0, at, survey));
  const names = new Map(surveys.map(({ key, name }) => [key, name]));
  for (const key of new Set([...names.keys(), ...lastSeq.keys()])) {
    const head = { key, name: names.get(key) ?? 'A survey', kept_at: null, changed_at: null, archived_at: null };
    await transaction.objectStore('heads').put({ ...head, seq: lastSeq.get(key) ?? 0, base_seq: 0 });
  }
  const first = database as unknown as IDBPDatabase<FirstSchema>;
  first.deleteObjectStore('surveys');
  first.deleteObjectStore('changes');
}

/** The keys of what stands behind a number, of one survey. */
export const behind = (key: string, seq: number): IDBKeyRange => IDBKeyRange.bound([key, seq + 1], [key, Infinity]);
