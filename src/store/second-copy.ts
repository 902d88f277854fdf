/** What the worker is asked: to put a text behind what a file holds, or in its place. */
export interface CopyRequest {
  readonly id: number;
  readonly folder: string;
  readonly file: string;
  readonly text: string;
  readonly anew: boolean;
}

export interface CopyAnswer {
  readonly id: number;
  readonly isWritten: boolean;
}

/**
 * The rows of every survey once more, in files. A browser that finds its database damaged, as it may after it was ended
 * in the middle of a write (seen with Chromium 143: “IndexedDB recovering from a corrupted (and deleted) database”),
 * deletes all of it; files it leaves alone.
 */
export interface SecondCopy {
  /** Puts rows behind those of a survey, or (`anew`) in their place. False = not written; the reason does not matter. */
  write(key: string, rows: readonly object[], anew: boolean): Promise<boolean>;
  /** The surveys that there are copies of. */
  keys(): Promise<readonly string[]>;
  /** The rows of a survey. What was cut off in the middle is left out. */
  read(key: string): Promise<readonly unknown[]>;
  /** The number of the last row; null where there is none. */
  lastSeq(key: string): Promise<number | null>;
}

const FOLDER = 'second-copy';
const ENDING = '.jsonl';
/** Nobody waits longer for the second copy: the first one is on the disk by then. */
const WAITED_MS = 1000;
/** Enough for the longest row but a whole survey. */
const TAIL_BYTES = 200_000;

/** Null where the browser has no such files, or the page no right to them. */
export function createSecondCopy(): SecondCopy | null {
  if (typeof Worker !== 'function' || typeof navigator.storage?.getDirectory !== 'function') return null;
  let worker: Worker | null = null;
  let asked = 0;
  const waiting = new Map<number, (isWritten: boolean) => void>();
  const started = (): Worker => {
    if (worker) return worker;
    worker = new Worker(new URL('./second-copy.worker.ts', import.meta.url), { type: 'module', name: 'second-copy' });
    worker.addEventListener('message', ({ data }: MessageEvent<CopyAnswer>) => waiting.get(data.id)?.(data.isWritten));
    worker.addEventListener('error', () => {
      for (const answer of [...waiting.values()]) answer(false);
    });
    return worker;
  };
  const folder = async (): Promise<FileSystemDirectoryHandle | null> => {
    try {
      return await (await navigator.storage.getDirectory()).getDirectoryHandle(FOLDER);
    } catch {
      return null;
    }
  };
  const file = async (key: string): Promise<File | null> => {
    try {
      return (await (await (await folder())?.getFileHandle(`${key}${ENDING}`))?.getFile()) ?? null;
    } catch {
      return null;
    }
  };
  return {
    write: (key, rows, anew) =>
      new Promise((resolve) => {
        const id = ++asked;
        const answer = (isWritten: boolean): void => {
          clearTimeout(late);
          waiting.delete(id);
          resolve(isWritten);
        };
        const late = setTimeout(() => answer(false), WAITED_MS);
        waiting.set(id, answer);
        // A line that was cut off by a crash must not run into the next one.
        const text = rows.map((row) => `\n${JSON.stringify(row)}`).join('');
        const request: CopyRequest = { id, folder: FOLDER, file: `${key}${ENDING}`, text, anew };
        started().postMessage(request);
      }),
    async keys() {
      const found: string[] = [];
      const place = (await folder()) as (FileSystemDirectoryHandle & { keys(): AsyncIterable<string> }) | null;
      if (place)
        for await (const name of place.keys()) if (name.endsWith(ENDING)) found.push(name.slice(0, -ENDING.length));
      return found;
    },
    read: async (key) => rowsIn((await (await file(key))?.text()) ?? ''),
    async lastSeq(key) {
      const whole = await file(key);
      if (!whole) return null;
      const lines = (await whole.slice(-TAIL_BYTES).text()).split('\n');
      for (const line of lines.reverse()) {
        const [row] = rowsIn(line) as { seq?: unknown }[];
        if (typeof row?.seq === 'number') return row.seq;
      }
      return null;
    },
  };
}

/** The rows of a text of one JSON object a line. */
export function rowsIn(text: string): readonly unknown[] {
  return text.split('\n').flatMap((line) => {
    try {
      return line === '' ? [] : [JSON.parse(line) as unknown];
    } catch {
      return [];
    }
  });
}
