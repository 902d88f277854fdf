import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { type Change, commit } from '../survey/commit';
import type { Survey } from '../survey/survey';

/** What a device remembers of a survey: how it was first kept, and every change since, in order. */
interface KeptSurveys extends DBSchema {
  surveys: { key: string; value: { id: string; name: string; survey: Survey } };
  changes: { key: number; value: { survey: string; change: Change }; indexes: { survey: string } };
  /** `open`: the id of the survey that was open last. */
  marks: { key: string; value: string };
}

export interface SurveyStore {
  /** Keeps a survey as it is, in place of what was kept of it. */
  putWhole(survey: Survey): Promise<void>;
  /** Adds a change; a survey that was never kept is kept first, as it was before the change. */
  append(before: Survey, change: Change): Promise<void>;
  /** The survey that was open last, with all its changes; null where nothing is kept. */
  lastOpen(): Promise<Survey | null>;
  /** Leaves what is kept, and opens nothing by itself next time. */
  closeLast(): Promise<void>;
  /** The surveys on this device, by name. */
  list(): Promise<readonly { readonly id: string; readonly name: string }[]>;
  /** A kept survey with all its changes, which is the open one from now on. */
  reopen(id: string): Promise<Survey | null>;
}

const DATABASE = 'hollowline';
const VERSION = 1;

/**
 * Surveys on this device, in IndexedDB. A change is durable when its promise is fulfilled. The handle is opened at first
 * use, and once more where the browser has dropped it.
 */
export function createSurveyStore(name = DATABASE): SurveyStore {
  let handle: Promise<IDBPDatabase<KeptSurveys>> | null = null;
  const open = (): Promise<IDBPDatabase<KeptSurveys>> => {
    handle ??= openDB<KeptSurveys>(name, VERSION, {
      upgrade(database) {
        database.createObjectStore('surveys', { keyPath: 'id' });
        database.createObjectStore('changes', { autoIncrement: true }).createIndex('survey', 'survey');
        database.createObjectStore('marks');
      },
      terminated() {
        handle = null;
      },
    });
    return handle;
  };
  const withDatabase = async <T>(work: (database: IDBPDatabase<KeptSurveys>) => Promise<T>): Promise<T> => {
    try {
      return await work(await open());
    } catch (error) {
      // Browsers drop the handle of a page in the background; the second try has a fresh one.
      if (!(error instanceof DOMException) || (error.name !== 'InvalidStateError' && error.name !== 'UnknownError')) {
        throw error;
      }
      handle = null;
      return work(await open());
    }
  };
  const read = async (database: IDBPDatabase<KeptSurveys>, id: string): Promise<Survey | null> => {
    const transaction = database.transaction(['surveys', 'changes']);
    const kept = await transaction.objectStore('surveys').get(id);
    const changes = await transaction.objectStore('changes').index('survey').getAll(id);
    await transaction.done;
    return kept ? changes.reduce((survey, { change }) => commit(survey, change).survey, kept.survey) : null;
  };
  const STRICT = { durability: 'strict' } as const;

  return {
    putWhole: (survey) =>
      withDatabase(async (database) => {
        const transaction = database.transaction(['surveys', 'changes', 'marks'], 'readwrite', STRICT);
        const changes = transaction.objectStore('changes');
        for (const key of await changes.index('survey').getAllKeys(survey.id)) await changes.delete(key);
        await transaction.objectStore('surveys').put({ id: survey.id, name: survey.site.name, survey });
        await transaction.objectStore('marks').put(survey.id, 'open');
        await transaction.done;
      }),
    append: (before, change) =>
      withDatabase(async (database) => {
        const transaction = database.transaction(['surveys', 'changes', 'marks'], 'readwrite', STRICT);
        const surveys = transaction.objectStore('surveys');
        if ((await surveys.getKey(before.id)) === undefined) {
          await surveys.put({ id: before.id, name: before.site.name, survey: before });
        }
        await transaction.objectStore('changes').add({ survey: before.id, change });
        await transaction.objectStore('marks').put(before.id, 'open');
        await transaction.done;
      }),
    lastOpen: () =>
      withDatabase(async (database) => {
        const id = await database.get('marks', 'open');
        return id === undefined ? null : read(database, id);
      }),
    closeLast: () => withDatabase((database) => database.delete('marks', 'open')),
    list: () =>
      withDatabase(async (database) =>
        (await database.getAll('surveys')).map(({ id, name: siteName }) => ({ id, name: siteName })),
      ),
    reopen: (id) =>
      withDatabase(async (database) => {
        const survey = await read(database, id);
        if (survey) await database.put('marks', id, 'open');
        return survey;
      }),
  };
}
