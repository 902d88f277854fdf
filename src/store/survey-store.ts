import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { type Change, commit } from '../survey/commit';
import type { Survey } from '../survey/survey';

/** What a device remembers of a survey: how it was first kept, and every change since, in order. */
interface KeptSurveys extends DBSchema {
  surveys: { key: string; value: { key: string; name: string; survey: Survey } };
  changes: { key: number; value: { of: string; change: Change }; indexes: { of: string } };
  /** `open`: the key of the survey that was open last. */
  marks: { key: string; value: string };
}

/** A survey as kept, with all its changes. Two copies of one survey have keys of their own, so neither is lost. */
export interface Kept {
  readonly key: string;
  readonly survey: Survey;
}

export interface SurveyStore {
  /** Keeps a survey under a new key, which is the open one from now on. */
  keep(survey: Survey): Promise<string>;
  /** Adds a change to a kept survey. */
  append(key: string, change: Change): Promise<void>;
  /** The survey that was open last; null where none is kept. */
  lastOpen(): Promise<Kept | null>;
  /** Opens nothing by itself next time. What is kept stays. */
  closeLast(): Promise<void>;
  /** The surveys on this device, by name. */
  list(): Promise<readonly { readonly key: string; readonly name: string }[]>;
  /** A kept survey, which is the open one from now on. */
  reopen(key: string): Promise<Kept | null>;
}

const DATABASE = 'hollowline';
const VERSION = 1;
/** A change is told as kept when it is on the disk, not only on its way there. */
const STRICT = { durability: 'strict' } as const;

type Database = IDBPDatabase<KeptSurveys>;

/**
 * Surveys on this device, in IndexedDB. A change is durable when its promise is fulfilled. The handle is opened at first
 * use, and once more where the browser has dropped it.
 */
export function createSurveyStore(name = DATABASE): SurveyStore {
  let handle: Promise<Database> | null = null;
  const open = (): Promise<Database> => {
    handle ??= openDB<KeptSurveys>(name, VERSION, {
      upgrade(database) {
        database.createObjectStore('surveys', { keyPath: 'key' });
        database.createObjectStore('changes', { autoIncrement: true }).createIndex('of', 'of');
        database.createObjectStore('marks');
      },
      terminated() {
        handle = null;
      },
    });
    return handle;
  };
  const withDatabase = async <T>(work: (database: Database) => Promise<T>): Promise<T> => {
    try {
      return await work(await open());
    } catch (error) {
      if (!isDropped(error)) throw error;
      handle = null;
      return work(await open());
    }
  };

  return {
    keep: (survey) =>
      withDatabase(async (database) => {
        const key = crypto.randomUUID();
        const transaction = database.transaction(['surveys', 'marks'], 'readwrite', STRICT);
        await transaction.objectStore('surveys').put({ key, name: survey.site.name, survey });
        await transaction.objectStore('marks').put(key, 'open');
        await transaction.done;
        return key;
      }),
    append: (key, change) =>
      withDatabase(async (database) => {
        const transaction = database.transaction('changes', 'readwrite', STRICT);
        await transaction.store.add({ of: key, change });
        await transaction.done;
      }),
    lastOpen: () =>
      withDatabase(async (database) => {
        const key = await database.get('marks', 'open');
        return key === undefined ? null : read(database, key);
      }),
    closeLast: () => withDatabase((database) => database.delete('marks', 'open')),
    list: () =>
      withDatabase(async (database) =>
        (await database.getAll('surveys')).map(({ key, name: site }) => ({ key, name: site })),
      ),
    reopen: (key) =>
      withDatabase(async (database) => {
        const kept = await read(database, key);
        if (kept) await database.put('marks', key, 'open');
        return kept;
      }),
  };
}

/** Browsers drop the handle of a page in the background; a second try with a fresh one succeeds. */
const isDropped = (error: unknown): boolean =>
  error instanceof DOMException && (error.name === 'InvalidStateError' || error.name === 'UnknownError');

async function read(database: Database, key: string): Promise<Kept | null> {
  const transaction = database.transaction(['surveys', 'changes']);
  const kept = await transaction.objectStore('surveys').get(key);
  const changes = await transaction.objectStore('changes').index('of').getAll(key);
  await transaction.done;
  if (!kept) return null;
  return { key, survey: changes.reduce((survey, { change }) => commit(survey, change).survey, kept.survey) };
}
