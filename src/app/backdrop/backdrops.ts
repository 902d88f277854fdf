import { useSyncExternalStore } from 'react';
import type { ShownBackdrop } from '../../map/draw-backdrop';
import { type BackdropFiles, createBackdropFiles } from '../../store/backdrop-files';
import { whyNot } from '../../store/failures';
import { backdropChoice } from './backdrop-choice';
import { FIRST_OPACITY } from './backdrop-kinds';
import { drawable } from './drawable';
import { type KeptBackdrop, readKeptList } from './kept-backdrop';
import { hostOf } from './tile-address';

export interface BackdropsState {
  /** Null until the list of this device was read. */
  readonly list: readonly KeptBackdrop[] | null;
  /** What lies under the survey; null = paper and grid. */
  readonly shown: (ShownBackdrop & { readonly kept: KeptBackdrop }) | null;
  /** What went wrong last, or has to be known. */
  readonly said: string | null;
}

export type NewBackdrop = Omit<KeptBackdrop, 'key' | 'bytes' | 'opacity'>;

const LIST = 'list.json';
const CHANGE_KEPT_AFTER_MS = 300;

function whyNotKept(error: unknown): string {
  const canKeep = typeof FileSystemFileHandle === 'function' && 'createWritable' in FileSystemFileHandle.prototype;
  return canKeep ? whyNot(error) : 'this browser, or this address, does not let a page keep files';
}

export function createBackdrops(files: BackdropFiles) {
  let state: BackdropsState = { list: null, shown: null, said: null };
  const listeners = new Set<() => void>();
  /** Files that could not be kept: for as long as the page is open. */
  const forNow = new Map<string, Blob>();
  const set = (change: Partial<BackdropsState>): void => {
    state = { ...state, ...change };
    for (const listener of listeners) listener();
  };
  const listed = (): readonly KeptBackdrop[] => state.list ?? [];

  const readList = async (): Promise<readonly KeptBackdrop[]> =>
    readKeptList((await (await files.get(LIST))?.text()) ?? '[]');

  /** Changes the list on the disk as it is now: another tab may have changed it too. */
  async function keepList(change: (kept: readonly KeptBackdrop[]) => readonly KeptBackdrop[]): Promise<void> {
    const write = async () => {
      const kept = change(await readList());
      await files.put(LIST, new Blob([JSON.stringify(kept)], { type: 'application/json' }));
    };
    await (navigator.locks ? navigator.locks.request('hollowline backdrops', write) : write());
  }

  async function draw(key: string | null): Promise<void> {
    const kept = listed().find((each) => each.key === key);
    if (!kept) return set({ shown: null });
    let file: Blob | null = null;
    try {
      file = forNow.get(kept.key) ?? (await files.get(kept.key));
    } catch (error) {
      return set({ shown: null, said: `${kept.name} could not be read (${whyNot(error)}).` });
    }
    const made = await drawable(kept, file);
    // Another one may have been chosen while this one was read.
    if (backdropChoice.get().shown !== key) return;
    if (made.ok) set({ shown: { drawn: made.value, opacity: kept.opacity, kept } });
    else set({ shown: null, said: made.sentence });
  }

  let loading: Promise<void> | null = null;
  let keepLater: ReturnType<typeof setTimeout> | undefined;

  return {
    get: () => state,
    subscribe(listener: () => void): () => void {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    /** Reads the list of this device, once, and draws what was chosen. */
    load(): Promise<void> {
      loading ??= readList()
        .catch(() => [])
        .then((list) => {
          set({ list });
          return draw(backdropChoice.get().shown);
        });
      return loading;
    },
    async show(key: string | null): Promise<void> {
      backdropChoice.show(key);
      set({ said: null });
      await draw(key);
    },
    /** Keeps a backdrop and shows it. What cannot be kept is shown until the page is closed, and that is said. */
    async add(made: NewBackdrop, file: Blob | null, note: string | null): Promise<void> {
      const key = `b${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`;
      const kept: KeptBackdrop = { ...made, key, bytes: file?.size ?? 0, opacity: FIRST_OPACITY[made.kind] };
      let said = note;
      try {
        if (file) await files.put(key, file);
        await keepList((list) => [...list, kept]);
      } catch (error) {
        if (file) forNow.set(key, file);
        said = `${kept.name} is shown, but could not be kept (${whyNotKept(error)}). It is gone when the page is closed.`;
      }
      set({ list: [...listed(), kept] });
      backdropChoice.show(key);
      await draw(key);
      if (said !== null) set({ said });
    },
    change(key: string, change: Partial<Pick<KeptBackdrop, 'opacity' | 'attribution'>>): void {
      const list = listed().map((each) => (each.key === key ? { ...each, ...change } : each));
      const kept = list.find((each) => each.key === key);
      const { shown } = state;
      const isShown = shown?.kept.key === key && kept !== undefined;
      set({ list, shown: isShown ? { ...shown, opacity: kept.opacity, kept } : shown });
      clearTimeout(keepLater);
      keepLater = setTimeout(() => {
        const now = new Map(listed().map((each) => [each.key, each]));
        keepList((disk) => disk.map((each) => now.get(each.key) ?? each)).catch(() => undefined);
      }, CHANGE_KEPT_AFTER_MS);
    },
    async remove(key: string): Promise<void> {
      if (backdropChoice.get().shown === key) backdropChoice.show(null);
      if (state.shown?.kept.key === key) set({ shown: null });
      forNow.delete(key);
      set({ list: listed().filter((each) => each.key !== key), said: null });
      try {
        await keepList((list) => list.filter((each) => each.key !== key));
        await files.remove(key);
      } catch (error) {
        set({ said: `It is off the map, but could not be deleted from this device (${whyNotKept(error)}).` });
      }
    },
    /** A piece of what is shown did not come. */
    missed(): void {
      const kept = state.shown?.kept;
      if (!kept) return;
      const said =
        kept.kind === 'online'
          ? `${hostOf(kept.address ?? '')} did not give all tiles: no signal, or it has none here.`
          : `Pieces of ${kept.name} could not be drawn.`;
      if (said !== state.said) set({ said });
    },
    say: (said: string | null): void => set({ said }),
  };
}

/** The backdrops of this device. */
export const backdrops = createBackdrops(createBackdropFiles());

export const useBackdrops = (): BackdropsState => useSyncExternalStore(backdrops.subscribe, backdrops.get);
