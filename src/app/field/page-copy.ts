import { createStore, type Store } from '../state/store';

/** The page itself as this device keeps it. */
export interface PageCopy {
  /** The build that is running. */
  readonly build: string;
  /** `whole`: it opens without a connection. `none`: this browser, or this address, keeps no pages. */
  readonly kept: 'asking' | 'keeping' | 'whole' | 'failed' | 'none';
  /** Another build that could be used: it waits, or another tab of this browser has taken it. */
  readonly newer: { readonly build: string | null; readonly taken: boolean } | null;
  /** A person has said “later”. */
  readonly putOff: boolean;
  /** A piece of the page could not be loaded: it has to be loaded anew. */
  readonly broken: boolean;
}

export interface KeptPage {
  readonly copy: Store<PageCopy, Partial<PageCopy>>;
  /** Keeps the page on this device and looks for a newer build, now and whenever the page is looked at again. */
  start(): Promise<void>;
  /** Runs the newer build, once nothing is left to be written down. */
  takeNewer(): Promise<void>;
}

const ASKED_AGAIN_MS = 60 * 60 * 1000;
/** Set for a page that has been loaded anew because a piece was missing, so that it is not done for ever. */
const RELOADED = 'hollowline.reloaded';

/** `written`: is fulfilled once every edit is on the disk. */
export function createKeptPage(written: () => Promise<void>): KeptPage {
  const build = document.querySelector<HTMLMetaElement>('meta[name="hollowline-build"]')?.content ?? '';
  const initial: PageCopy = { build, kept: 'asking', newer: null, putOff: false, broken: false };
  const copy = createStore<PageCopy, Partial<PageCopy>>(initial, (state, change) => ({ ...state, ...change }));
  let registration: ServiceWorkerRegistration | null = null;
  let asked = false;

  const reload = async (): Promise<void> => {
    await written();
    location.reload();
  };
  const foundWaiting = async (worker: ServiceWorker): Promise<void> => {
    copy.dispatch({ newer: { build: await buildOf(worker), taken: false }, putOff: false });
  };
  const follow = (worker: ServiceWorker | null): void => {
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'installed' && navigator.serviceWorker.controller) void foundWaiting(worker);
      if (worker.state === 'activated') copy.dispatch({ kept: 'whole' });
      // A newer build that could not be fetched whole takes nothing away from the one that is kept.
      if (worker.state === 'redundant' && !registration?.active) copy.dispatch({ kept: 'failed' });
    });
  };

  window.addEventListener('vite:preloadError', () => {
    copy.dispatch({ broken: true });
    if (!navigator.onLine || sessionStorage.getItem(RELOADED) !== null) return;
    sessionStorage.setItem(RELOADED, 'yes');
    void reload();
  });

  return {
    copy,
    async start() {
      if (!('serviceWorker' in navigator) || import.meta.hot) return copy.dispatch({ kept: 'none' });
      const controlled = navigator.serviceWorker.controller !== null;
      navigator.serviceWorker.addEventListener('controllerchange', () => {
        if (asked) void reload();
        else if (controlled) copy.dispatch({ newer: { build: copy.get().newer?.build ?? null, taken: true } });
      });
      await atRest();
      try {
        registration = await navigator.serviceWorker.register(new URL('service-worker.js', document.baseURI), {
          updateViaCache: 'none',
        });
      } catch {
        return copy.dispatch({ kept: 'failed' });
      }
      copy.dispatch({ kept: registration.active ? 'whole' : 'keeping' });
      if (registration.waiting && controlled) await foundWaiting(registration.waiting);
      follow(registration.installing);
      registration.addEventListener('updatefound', () => follow(registration?.installing ?? null));
      if (controlled) look(registration);
      askAgainWhenSeen(registration);
    },
    async takeNewer() {
      await written();
      asked = true;
      if (registration?.waiting) registration.waiting.postMessage('use_now');
      else location.reload();
    },
  };
}

/** Once nothing else is to be done: what a person waits for comes before what is fetched for later. */
const atRest = (): Promise<void> =>
  new Promise((resolve) => {
    if ('requestIdleCallback' in window) requestIdleCallback(() => resolve(), { timeout: 4000 });
    else setTimeout(resolve, 1000);
  });

/** Without a connection there is nothing newer to be had, which is no trouble. */
function look(registration: ServiceWorkerRegistration): void {
  registration.update().catch(() => undefined);
}

/** A page may stay open for days: it asks for a newer build when it is looked at again. */
function askAgainWhenSeen(registration: ServiceWorkerRegistration): void {
  let last = Date.now();
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState !== 'visible' || !navigator.onLine || Math.abs(Date.now() - last) < ASKED_AGAIN_MS)
      return;
    last = Date.now();
    look(registration);
  });
}

function buildOf(worker: ServiceWorker): Promise<string | null> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(String(data));
    setTimeout(() => resolve(null), 2000);
    worker.postMessage('which_build', [port2]);
  });
}
