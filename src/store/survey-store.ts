import type { Change } from '../survey/commit';
import type { EntryKind } from '../survey/history';
import type { Survey } from '../survey/survey';
import { append } from './append';
import { compact } from './compact';
import { createCopying } from './copying';
import { behind, type Database, openDatabase, STRICT } from './database';
import { isDropped, NotKeptHere } from './failures';
import { type Kept, nameOf, readKept, restoreLost } from './read-kept';
import { restore } from './restore';
import { changeIn, type EntryRow, makeBase, type SetAsideRow } from './rows';
import type { SecondCopy } from './second-copy';

/** A survey in the list of those kept. Times are ISO 8601; null = from a time when they were not written down. */
export interface Listed {
  readonly key: string;
  readonly name: string;
  readonly keptAt: string | null;
  readonly changedAt: string | null;
  readonly archivedAt: string | null;
}

export interface AppendOptions {
  readonly kind?: EntryKind;
  /** The last entry that the writer knows. Where there is a later one by somebody else nothing is written. */
  readonly after?: number;
}

export interface NumberedChange {
  readonly seq: number;
  readonly kind: EntryKind;
  readonly change: Change;
}

export interface SurveyStore {
  /** Keeps a survey under a new key, which is the open one from now on. */
  keep(survey: Survey): Promise<string>;
  /**
   * Adds a change to a kept survey and gives its number. Asked again after an uncertain end, it is not written twice.
   * Fails with `WrittenElsewhere` or `NotKeptHere` without writing anything.
   */
  append(key: string, change: Change, options?: AppendOptions): Promise<number>;
  /** The survey that was open last; null where none is kept. */
  lastOpen(): Promise<Kept | null>;
  /** Opens nothing by itself next time. What is kept stays. */
  closeLast(): Promise<void>;
  /** The surveys on this device, by name. */
  list(): Promise<readonly Listed[]>;
  /** A kept survey, which is the open one from now on. */
  reopen(key: string): Promise<Kept | null>;
  /** A kept survey, looked at. */
  read(key: string): Promise<Kept | null>;
  /** What was written behind an entry; null where it has to be read whole, since something between is damaged. */
  changesAfter(key: string, seq: number): Promise<readonly NumberedChange[] | null>;
  /** Puts a survey away from the list of those in use, or back. Nothing is deleted. */
  archive(key: string, archived: boolean): Promise<void>;
  /** Everything damaged that was ever found, as it was found. */
  quarantined(): Promise<readonly SetAsideRow[]>;
  /** Writes a new base where the journal has grown long. Done by itself now and then. */
  compact(key: string): Promise<void>;
}

export interface StoreOptions {
  readonly now?: () => string;
  /** What is done when nobody waits. */
  readonly later?: (work: () => void) => void;
  /** Where everything is kept once more. */
  readonly secondCopy?: SecondCopy | null;
  /** A page of an older version keeps the database from being opened; it has to be closed. */
  readonly onBlocked?: () => void;
}

const DATABASE = 'hollowline';
/** Replaying so many takes a moment at opening; a choice. */
const LONG_JOURNAL = 700;

/** In one order whatever language the browser speaks. */
const byName = new Intl.Collator('en', { numeric: true });

const whenIdle = (work: () => void): void => {
  if (typeof requestIdleCallback === 'function') requestIdleCallback(work);
  else setTimeout(work);
};

/**
 * Surveys on this device, in IndexedDB. A change is durable when its promise is fulfilled. The handle is opened at first
 * use, and once more where the browser has dropped it.
 */
export function createSurveyStore(name = DATABASE, options: StoreOptions = {}): SurveyStore {
  const { now = () => new Date().toISOString(), later = whenIdle, onBlocked = () => {}, secondCopy = null } = options;
  const copying = createCopying(secondCopy);
  const writer = crypto.randomUUID();
  let handle: Promise<Database> | null = null;
  const lost = (): void => {
    handle = null;
  };
  const open = (): Promise<Database> => {
    const opening = handle ?? openDatabase(name, now, { onBlocked, onLost: lost });
    handle = opening;
    // What could not be opened is tried anew next time.
    opening.catch(() => handle === opening && lost());
    return opening;
  };
  const withDatabase = async <T>(work: (database: Database) => Promise<T>): Promise<T> => {
    try {
      return await work(await open());
    } catch (error) {
      if (!isDropped(error)) throw error;
      lost();
      return work(await open());
    }
  };
  // One after the other, so that the first copy rests while the second is written, and no crash can harm both.
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: (database: Database) => Promise<T>): Promise<T> => {
    const done = last.then(() => withDatabase(work));
    last = done.catch(() => undefined);
    return done;
  };
  const compactNow = (key: string): Promise<void> =>
    inTurn(async (database) => {
      if (await compact(database, key, now())) await copying.anew(database, key);
    });
  const read = (key: string): Promise<Kept | null> =>
    withDatabase((database) => readKept(database, key, now(), secondCopy));

  return {
    keep: (survey) => {
      const key = crypto.randomUUID();
      const at = now();
      const base = makeBase(key, 0, at, survey);
      const head = { key, name: survey.site.name, kept_at: at, changed_at: at, archived_at: null };
      return inTurn(async (database) => {
        const transaction = database.transaction(['heads', 'bases', 'marks'], 'readwrite', STRICT);
        await Promise.all([
          transaction.objectStore('heads').put({ ...head, seq: 0, base_seq: 0 }),
          transaction.objectStore('bases').put(base),
          transaction.objectStore('marks').put(key, 'open'),
          transaction.done,
        ]);
        await copying.anew(database, key);
        return key;
      });
    },
    append: (key, change, { kind = 'do', after } = {}) =>
      inTurn(async (database) => {
        const written = (): Promise<EntryRow> => append(database, key, { change, kind, after, writer, at: now() });
        let entry: EntryRow;
        try {
          entry = await written();
        } catch (error) {
          const isLost = error instanceof NotKeptHere && secondCopy !== null;
          if (!isLost || (await restore(database, key, await secondCopy.read(key))) === 0) throw error;
          await database.put('marks', key, 'open');
          entry = await written();
        }
        await copying.add(database, entry);
        const head = await database.get('heads', key);
        const isLong = head && head.seq - head.base_seq >= LONG_JOURNAL && (head.seq - head.base_seq) % 50 === 0;
        // That it is not done now loses nothing: it is tried again.
        if (isLong) later(() => void compactNow(key).catch(() => undefined));
        return entry.seq;
      }),
    lastOpen: () =>
      withDatabase(async (database) => {
        const lost = secondCopy ? await restoreLost(database, secondCopy) : null;
        if (lost !== null && (await database.get('marks', 'open')) === undefined)
          await database.put('marks', lost, 'open');
        const key = await database.get('marks', 'open');
        const kept = key === undefined ? null : await readKept(database, key, now(), secondCopy);
        return kept && key === lost ? { ...kept, restored: true } : kept;
      }),
    closeLast: () => withDatabase((database) => database.delete('marks', 'open')),
    list: () => withDatabase(listed),
    reopen: (key) =>
      withDatabase(async (database) => {
        const kept = await readKept(database, key, now(), secondCopy);
        if (kept) await database.put('marks', key, 'open');
        return kept;
      }),
    read,
    changesAfter: (key, seq) =>
      withDatabase(async (database) => {
        const rows = await database.getAll('journal', behind(key, seq));
        const changes = rows.flatMap((row, i) => {
          const read = changeIn(row);
          return read.ok && row.seq === seq + 1 + i ? [{ seq: row.seq, ...read.value }] : [];
        });
        return changes.length === rows.length ? changes : null;
      }),
    archive: (key, archived) =>
      withDatabase(async (database) => {
        const transaction = database.transaction('heads', 'readwrite', STRICT);
        const head = await transaction.store.get(key);
        if (head) await transaction.store.put({ ...head, archived_at: archived ? now() : null });
        await transaction.done;
      }),
    quarantined: () => withDatabase((database) => database.getAll('quarantine')),
    compact: compactNow,
  };
}

async function listed(database: Database): Promise<readonly Listed[]> {
  const heads = await database.getAll('heads');
  const known = new Set(heads.map(({ key }) => key));
  // A survey whose heading is gone is still one.
  const alone = new Set((await database.getAllKeys('bases')).map(([of]) => of).filter((of) => !known.has(of)));
  return [
    ...heads.map((head) => ({
      key: head.key,
      name: nameOf(head),
      keptAt: head.kept_at ?? null,
      changedAt: head.changed_at ?? null,
      archivedAt: head.archived_at ?? null,
    })),
    ...[...alone].map((key) => ({ key, name: nameOf(undefined), keptAt: null, changedAt: null, archivedAt: null })),
  ].sort((a, b) => byName.compare(a.name, b.name) || byName.compare(b.changedAt ?? '', a.changedAt ?? ''));
}
