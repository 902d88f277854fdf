import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/*
 * The files of photos on this device, by the digest of their bytes. They stand in a database of their own: whatever
 * happens to a photo, the readings are kept apart from it.
 */

interface PhotoSchema extends DBSchema {
  files: { key: string; value: { readonly sha256: string; readonly bytes: ArrayBuffer; readonly mediaType: string } };
}

export interface PhotoFiles {
  /** Fulfilled when the file is on the disk. The same file again changes nothing. */
  put(sha256: string, bytes: ArrayBuffer, mediaType: string): Promise<void>;
  /** Null where this device does not have it: a colleague's photo, or one from before its storage was cleared. */
  get(sha256: string): Promise<Blob | null>;
}

export function createPhotoFiles(name = 'hollowline-photos'): PhotoFiles {
  let handle: Promise<IDBPDatabase<PhotoSchema>> | null = null;
  const open = (): Promise<IDBPDatabase<PhotoSchema>> => {
    const lost = (): void => {
      handle = null;
    };
    const opening =
      handle ??
      openDB<PhotoSchema>(name, 1, {
        upgrade: (database) => void database.createObjectStore('files', { keyPath: 'sha256' }),
        terminated: lost,
      });
    handle = opening;
    opening.catch(lost);
    return opening;
  };
  /** Browsers drop the handle of a page in the background; a second try with a fresh one succeeds. */
  const withDatabase = async <T>(work: (database: IDBPDatabase<PhotoSchema>) => Promise<T>): Promise<T> => {
    try {
      return await work(await open());
    } catch (error) {
      if (!(error instanceof DOMException) || error.name === 'QuotaExceededError') throw error;
      handle = null;
      return work(await open());
    }
  };
  return {
    put: (sha256, bytes, mediaType) =>
      withDatabase(async (database) => {
        const transaction = database.transaction('files', 'readwrite', { durability: 'strict' });
        transaction.done.catch(() => undefined);
        await transaction.store.put({ sha256, bytes, mediaType });
        await transaction.done;
      }),
    get: (sha256) =>
      withDatabase(async (database) => {
        const file = await database.get('files', sha256);
        return file ? new Blob([file.bytes], { type: file.mediaType }) : null;
      }),
  };
}
