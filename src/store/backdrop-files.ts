/*
 * Backdrops on this device, in the browser's own folder (OPFS): their files, and one list that says what they are.
 * They stand apart from the readings, which no trouble here can touch.
 */

export interface BackdropFiles {
  /** Fulfilled when the file is whole on the disk; rejected with `QuotaExceededError` where there is no room. */
  put(name: string, content: Blob): Promise<void>;
  /** Null where it is not on this device. */
  get(name: string): Promise<File | null>;
  /** Nothing happens where it is not there. */
  remove(name: string): Promise<void>;
}

const FOLDER = 'backdrops';

const isMissing = (error: unknown): boolean => error instanceof DOMException && error.name === 'NotFoundError';

export function createBackdropFiles(folder = FOLDER): BackdropFiles {
  const open = async (): Promise<FileSystemDirectoryHandle> =>
    (await navigator.storage.getDirectory()).getDirectoryHandle(folder, { create: true });
  const remove = async (name: string): Promise<void> => {
    try {
      await (await open()).removeEntry(name);
    } catch (error) {
      if (!isMissing(error)) throw error;
    }
  };
  return {
    remove,
    async put(name, content) {
      const handle = await (await open()).getFileHandle(name, { create: true });
      const isNew = (await handle.getFile()).size === 0;
      const writing = await handle.createWritable();
      try {
        await writing.write(content);
        await writing.close();
      } catch (error) {
        await writing.abort().catch(() => undefined);
        // What was there before stays as it was; a file that was never written leaves nothing behind.
        if (isNew) await remove(name);
        throw error;
      }
    },
    async get(name) {
      try {
        return await (await (await open()).getFileHandle(name)).getFile();
      } catch (error) {
        if (isMissing(error)) return null;
        throw error;
      }
    },
  };
}
