import { NotKeptHere, WrittenElsewhere, whyNot } from '../store/failures';
import type { NumberedChange, SurveyStore } from '../store/survey-store';
import { type Change, commit } from '../survey/commit';
import { afterEntry, type EditHistory, type EntryKind } from '../survey/history';
import type { Outcome } from '../survey/outcome';
import type { Survey } from '../survey/survey';
import type { AppState } from './state/app-state';
import type { Action } from './state/reduce';
import type { Store } from './state/store';
import { NO_OTHER_TABS, type Tabs } from './tabs';

/** Writes what happens to the open survey down on the device, and says whether it could. */
export interface Keeper {
  /** A survey as a whole, taken in from a file. True = it is on the disk. */
  whole(survey: Survey): Promise<boolean>;
  /**
   * An edit. `before`: the survey that it was made to, kept whole first where it was not kept yet. True = it is on the
   * disk; false = it is held, and tried again.
   */
  add(before: Survey, change: Change, kind?: EntryKind): Promise<boolean>;
  /**
   * The open survey is one that the device has, under this key, up to the entry `seq`; null = one that it has not. Is
   * fulfilled once it is known whether this tab writes.
   */
  follow(key: string | null, seq?: number): Promise<void>;
  /** The key of the open survey; null while the device has it under none. */
  openKey(): string | null;
  /** Makes this tab the one that writes. */
  writeHere(): Promise<Outcome<void>>;
  /** Is fulfilled once all that was asked for so far has been written, or has failed. */
  written(): Promise<void>;
}

/** What another tab has written, shown here. */
export type ShowWritten = (survey: Survey, history: EditHistory, changes: readonly Change[] | null) => void;

export interface KeeperOptions {
  readonly tabs?: Tabs;
  readonly show?: ShowWritten;
}

interface Target {
  key: string | null;
  /** The last entry that this tab knows. */
  seq: number;
}

interface Work {
  readonly into: Target;
  /** Null = the survey as a whole. */
  readonly change: Change | null;
  readonly kind: EntryKind;
  readonly before: Survey;
  isWritten: boolean;
}

/** After a failure it is tried again by itself, for as long as something is unwritten. */
const TRIED_AGAIN_MS = 5000;

/**
 * What was asked for is written in its order. What could not be written is held, and goes before all that follows, so
 * that “kept” is never said while something older is not. In a tab that follows nothing is written.
 */
export function createKeeper(
  store: Store<AppState, Action>,
  device: SurveyStore,
  { tabs = NO_OTHER_TABS, show = () => {} }: KeeperOptions = {},
): Keeper {
  // Work that is held belongs to the survey that was open when it was asked for.
  let target: Target = { key: null, seq: 0 };
  const unwritten: Work[] = [];
  let last: Promise<unknown> = Promise.resolve();
  let said: string | null = null;
  let again: ReturnType<typeof setTimeout> | undefined;
  const isFollowing = (into: Target): boolean => into === target && store.get().tab === 'follows';

  const keepWhole = async (into: Target, survey: Survey): Promise<void> => {
    into.key = await device.keep(survey);
    into.seq = 0;
    if (into === target) void openTab(into);
  };
  const write = async ({ into, change, kind, before }: Work): Promise<void> => {
    if (into.key === null) await keepWhole(into, before);
    if (change === null || into.key === null) return;
    try {
      into.seq = await device.append(into.key, change, into === target ? { kind, after: into.seq } : { kind });
    } catch (error) {
      if (error instanceof NotKeptHere) {
        await keepWhole(into, before);
        store.dispatch({ type: 'trouble', sentence: DELETED_MEANWHILE });
      } else if (error instanceof WrittenElsewhere) await takeIn(into);
      else throw error;
      into.seq = await device.append(into.key, change, { kind, after: into.seq });
    }
    tabs.told(into.key, into.seq);
  };
  const writeAll = async (): Promise<void> => {
    try {
      for (let work = unwritten[0]; work; work = unwritten[0]) {
        if (isFollowing(work.into)) throw new WrittenElsewhere();
        await write(work);
        work.isWritten = true;
        unwritten.shift();
      }
      store.dispatch({ type: 'kept', kept: 'kept' });
      if (said !== null && store.get().trouble === said) store.dispatch({ type: 'trouble', sentence: null });
      said = null;
    } catch (error) {
      store.dispatch({ type: 'kept', kept: 'not_kept' });
      // Once for one trouble, however often it is tried again.
      if (said === null) {
        said = `The last change is not kept on this device (${whyNot(error)}). It is tried again; save the survey to a file under Hand over.`;
        store.dispatch({ type: 'trouble', sentence: said });
      }
      clearTimeout(again);
      again = setTimeout(() => inTurn(), TRIED_AGAIN_MS);
    }
  };
  const inTurn = (): Promise<unknown> => {
    if (unwritten.length === 0) return last;
    store.dispatch({ type: 'kept', kept: 'keeping' });
    last = last.then(writeAll);
    return last;
  };
  const asked = async (work: Work): Promise<boolean> => {
    unwritten.push(work);
    await inTurn();
    return work.isWritten;
  };

  /** Shows what another tab has written, with what this one could not write on top of it. */
  const takeIn = async (into: Target): Promise<void> => {
    const { phase, history } = store.get();
    if (into.key === null || into !== target || phase.kind !== 'ready') return;
    const own = unwritten.flatMap((work) => (work.into === into && work.change ? [work as Entered] : []));
    const news = own.length === 0 ? await device.changesAfter(into.key, into.seq) : null;
    if (into !== target) return;
    if (news?.length === 0) return;
    if (news) {
      const shown = replayed(phase.content.survey, history, news);
      into.seq = news.at(-1)?.seq ?? into.seq;
      return show(
        shown.survey,
        shown.history,
        news.map(({ change }) => change),
      );
    }
    const kept = await device.read(into.key);
    if (!kept || into !== target) return;
    const shown = replayed(kept.survey, kept.history, own);
    into.seq = kept.seq;
    show(shown.survey, shown.history, null);
  };
  /** After all that is under way, so that what is taken in and what is written do not cross. */
  const takeInTurn = (into: Target): Promise<void> => {
    const taken = last
      .then(() => takeIn(into))
      .catch((error: unknown) => {
        store.dispatch({ type: 'trouble', sentence: `What the other tab wrote could not be read (${whyNot(error)}).` });
      });
    last = taken;
    return taken;
  };
  const openTab = (into: Target): Promise<void> =>
    tabs.open(into.key ?? '', {
      async onWrites(role) {
        if (role === 'writes') await takeInTurn(into);
        if (into !== target) return;
        store.dispatch({ type: 'tab', tab: role });
        void inTurn();
      },
      onFollows() {
        store.dispatch({ type: 'tab', tab: 'follows' });
        return takeInTurn(into);
      },
      onWritten: () => void takeInTurn(into),
      async mayYield() {
        await last;
        return unwritten.length === 0;
      },
    });
  const turnTo = (key: string | null, seq: number): Target => {
    target = { key, seq };
    tabs.leave();
    store.dispatch({ type: 'tab', tab: 'writes' });
    return target;
  };

  return {
    whole: (survey) => asked({ into: turnTo(null, 0), change: null, kind: 'do', before: survey, isWritten: false }),
    add: (before, change, kind = 'do') => asked({ into: target, change, kind, before, isWritten: false }),
    async written() {
      await last;
    },
    async follow(key, seq = 0) {
      const into = turnTo(key, seq);
      store.dispatch({ type: 'kept', kept: key === null ? 'fresh' : 'kept' });
      if (key !== null) await openTab(into);
    },
    openKey: () => target.key,
    writeHere: () => tabs.takeOver(),
  };
}

const DELETED_MEANWHILE =
  'What this browser had stored for this page was deleted in the meantime. The survey that is open was kept anew.';

interface Entered extends Work {
  readonly change: Change;
}

function replayed(
  from: Survey,
  before: EditHistory,
  changes: readonly Pick<NumberedChange, 'kind' | 'change'>[],
): { readonly survey: Survey; readonly history: EditHistory } {
  let [survey, history] = [from, before];
  for (const { kind, change } of changes) {
    const made = commit(survey, change);
    survey = made.survey;
    history = afterEntry(history, kind, made.undo);
  }
  return { survey, history };
}
