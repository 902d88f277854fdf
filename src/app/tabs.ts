import { done, type Outcome, refuse } from '../survey/outcome';

/** `unguarded`: this browser cannot tell one tab of the other, so this one writes and hopes to be alone. */
export type TabRole = 'writes' | 'follows' | 'unguarded';

/** What tabs tell each other. */
export type TabWord =
  | { readonly kind: 'written'; readonly key: string; readonly seq: number }
  | { readonly kind: 'asked' | 'yielded' | 'busy'; readonly key: string };

export interface TabEvents {
  /** This tab writes from now on: what others have written has to be taken in first. */
  readonly onWrites: (role: 'writes' | 'unguarded') => Promise<void>;
  readonly onFollows: () => Promise<void>;
  /** Another tab has written. */
  readonly onWritten: () => void;
  /** Another tab wants to write. Is fulfilled once nothing is left to be written; false = it cannot be. */
  readonly mayYield: () => Promise<boolean>;
}

/** Of all the tabs that have a survey open one writes. */
export interface Tabs {
  /** Opens a survey in this tab, in place of the one before. Is fulfilled once it is known who writes. */
  open(key: string, events: TabEvents): Promise<void>;
  leave(): void;
  /** Tells the others that something was written. */
  told(key: string, seq: number): void;
  /** Makes this tab the one that writes. Refused where the other one has something that it cannot write. */
  takeOver(): Promise<Outcome<void>>;
}

/** Where no other tab is thought of. */
export const NO_OTHER_TABS: Tabs = {
  open: async () => undefined,
  leave: () => undefined,
  told: () => undefined,
  takeOver: async () => done(undefined),
};

/** The part of `LockManager` that is used. */
export type Locks = Pick<LockManager, 'request'>;
export interface Channel {
  postMessage(word: TabWord): void;
  addEventListener(type: 'message', listener: (event: MessageEvent<TabWord>) => void): void;
}

/** A tab that does not answer in this time is asleep. */
const ANSWERED_MS = 3000;
/** A tab that asked to write and then did not has been closed. */
const TAKEN_MS = 5000;

interface Session {
  readonly key: string;
  readonly events: TabEvents;
  role: TabRole;
  release: (() => void) | null;
  waiting: AbortController | null;
  answered: ((word: 'yielded' | 'busy') => void) | null;
}

/** By the browser's locks, which it takes away itself from a tab that is gone. */
export function createTabs(locks: Locks | undefined, channel: Channel | undefined): Tabs {
  let open: Session | null = null;

  /** Asks for the lock. Fulfilled with whether it was given; a lock that is taken away again makes this tab follow. */
  const hold = (session: Session, options: LockOptions): Promise<boolean> =>
    new Promise((resolve) => {
      locks
        ?.request(`hollowline ${session.key}`, options, (lock) => {
          const given = lock !== null && session === open;
          resolve(given);
          if (!given) return undefined;
          return new Promise<void>((release) => {
            session.release = release;
          });
        })
        .catch(() => {
          resolve(false);
          session.release = null;
          if (session === open && session.role === 'writes') follow(session);
          else if (session === open && session.role === 'follows' && !session.waiting) wait(session);
        });
    });
  const write = (session: Session): Promise<void> => {
    session.role = 'writes';
    return session.events.onWrites('writes');
  };
  /** A tab that follows writes by itself once the other one is closed. */
  const wait = (session: Session): void => {
    const waiting = new AbortController();
    session.waiting = waiting;
    void hold(session, { signal: waiting.signal }).then((given) => {
      if (session.waiting === waiting) session.waiting = null;
      if (given) void write(session);
    });
  };
  const follow = (session: Session): Promise<void> => {
    session.role = 'follows';
    wait(session);
    return session.events.onFollows();
  };
  const yieldTo = async (session: Session): Promise<void> => {
    if (session.role !== 'writes') return;
    const may = await session.events.mayYield();
    if (session !== open || session.role !== 'writes') return;
    if (!may) return channel?.postMessage({ kind: 'busy', key: session.key });
    session.role = 'follows';
    void session.events.onFollows();
    channel?.postMessage({ kind: 'yielded', key: session.key });
    setTimeout(() => {
      if (session === open && session.role === 'follows' && session.release) void write(session);
    }, TAKEN_MS);
  };
  const answer = (session: Session): Promise<'yielded' | 'busy'> =>
    new Promise((resolve) => {
      const asleep = setTimeout(() => resolve('yielded'), ANSWERED_MS);
      session.answered = (word) => {
        clearTimeout(asleep);
        session.answered = null;
        resolve(word);
      };
      channel?.postMessage({ kind: 'asked', key: session.key });
    });
  channel?.addEventListener('message', ({ data }) => {
    if (!open || data.key !== open.key) return;
    if (data.kind === 'written') open.events.onWritten();
    else if (data.kind === 'asked') void yieldTo(open);
    else open.answered?.(data.kind);
  });

  const leave = (): void => {
    const left = open;
    open = null;
    left?.waiting?.abort();
    left?.release?.();
  };
  return {
    leave,
    async open(key, events) {
      leave();
      const session: Session = { key, events, role: 'writes', release: null, waiting: null, answered: null };
      open = session;
      if (!locks) {
        session.role = 'unguarded';
        return events.onWrites('unguarded');
      }
      const given = await hold(session, { ifAvailable: true });
      if (session !== open) return;
      await (given ? write(session) : follow(session));
    },
    told: (key, seq) => channel?.postMessage({ kind: 'written', key, seq }),
    async takeOver() {
      const session = open;
      if (session?.role !== 'follows') return done(undefined);
      const word = await answer(session);
      if (word === 'busy') return BUSY;
      if (session !== open || session.role !== 'follows') return done(undefined);
      session.waiting?.abort();
      if (await hold(session, { steal: true })) await write(session);
      return done(undefined);
    },
  };
}

const BUSY = refuse(
  'other_tab_busy',
  'The other tab has something that it could not write yet. Look there first, and save a copy to a file.',
);
