import type { CopyAnswer, CopyRequest } from './second-copy';

/*
 * Writes into files that belong to this page alone (WHATWG File System, origin private file system). Only a worker can
 * write there and wait until it is on the disk.
 */

async function write({ folder, file, text, anew }: CopyRequest): Promise<void> {
  const root = await navigator.storage.getDirectory();
  const place = await root.getDirectoryHandle(folder, { create: true });
  const handle = await (await place.getFileHandle(file, { create: true })).createSyncAccessHandle();
  try {
    if (anew) handle.truncate(0);
    handle.write(new TextEncoder().encode(text), { at: handle.getSize() });
    handle.flush();
  } finally {
    handle.close();
  }
}

/** The part of a worker's scope that is used; the page's own type library is another one. */
interface Scope {
  onmessage: ((event: MessageEvent<CopyRequest>) => void) | null;
  postMessage(answer: CopyAnswer): void;
}
const scope = globalThis as unknown as Scope;

let last: Promise<unknown> = Promise.resolve();
scope.onmessage = ({ data }) => {
  last = last
    .then(() => write(data))
    .then(
      () => scope.postMessage({ id: data.id, isWritten: true }),
      () => scope.postMessage({ id: data.id, isWritten: false }),
    );
};
