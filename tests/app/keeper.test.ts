import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createKeeper } from '../../src/app/keeper';
import { INITIAL_STATE } from '../../src/app/state/app-state';
import { reduce } from '../../src/app/state/reduce';
import { createStore } from '../../src/app/state/store';
import type { SurveyStore } from '../../src/store/survey-store';
import type { Change } from '../../src/survey/commit';
import { emptySurvey } from '../../src/survey/empty-survey';

const SURVEY = emptySurvey('seed', 'Site');
const change = (label: string): Change => ({ label });

/** A device that writes into a list, and fails while it is told to. */
function device() {
  const written: string[] = [];
  const state = { full: false };
  const write = async (what: string): Promise<void> => {
    await Promise.resolve();
    if (state.full) throw new Error('the disk is full');
    written.push(what);
  };
  let keys = 0;
  const store: SurveyStore = {
    async keep(survey) {
      const key = `key-${keys + 1}`;
      await write(`${key} ${survey.site.name}`);
      keys += 1;
      return key;
    },
    append: (key, { label }) => write(`${key} ${label}`),
    lastOpen: async () => null,
    closeLast: async () => undefined,
    list: async () => [],
    reopen: async () => null,
  };
  return { written, state, store };
}

describe('what is written down on the device', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('is said to be kept only after it is', async () => {
    const { store: disk, written } = device();
    const store = createStore(INITIAL_STATE, reduce);
    const said: string[] = [];
    store.subscribe(() => said.push(`${store.get().kept} ${written.length}`));
    await createKeeper(store, disk).add(SURVEY, change('one'));
    expect(said).toEqual(['keeping 0', 'kept 2']);
  });

  it('waits in its order while the disk is full, and is not said to be kept by what comes after', async () => {
    const { store: disk, written, state } = device();
    const store = createStore(INITIAL_STATE, reduce);
    const keeper = createKeeper(store, disk);
    await keeper.add(SURVEY, change('one'));
    state.full = true;
    await keeper.add(SURVEY, change('two'));
    expect(store.get()).toMatchObject({ kept: 'not_kept', trouble: expect.stringContaining('the disk is full') });
    await keeper.add(SURVEY, change('three'));
    expect(store.get().kept).toBe('not_kept');
    state.full = false;
    await keeper.add(SURVEY, change('four'));
    expect(store.get()).toMatchObject({ kept: 'kept', trouble: null });
    expect(written).toEqual(['key-1 Site', 'key-1 one', 'key-1 two', 'key-1 three', 'key-1 four']);
  });

  it('is tried again by itself, and the trouble is told once', async () => {
    const { store: disk, written, state } = device();
    const store = createStore(INITIAL_STATE, reduce);
    const keeper = createKeeper(store, disk);
    state.full = true;
    await keeper.add(SURVEY, change('one'));
    store.dispatch({ type: 'trouble', sentence: null });
    await vi.advanceTimersByTimeAsync(6000);
    expect(store.get()).toMatchObject({ kept: 'not_kept', trouble: null });
    state.full = false;
    await vi.advanceTimersByTimeAsync(6000);
    expect(store.get().kept).toBe('kept');
    expect(written).toEqual(['key-1 Site', 'key-1 one']);
  });

  it('goes to the survey that it was done to, also when another was opened in the meantime', async () => {
    const { store: disk, written, state } = device();
    const store = createStore(INITIAL_STATE, reduce);
    const keeper = createKeeper(store, disk);
    keeper.follow('first');
    state.full = true;
    await keeper.add(SURVEY, change('one'));
    keeper.follow('second');
    state.full = false;
    await keeper.add(SURVEY, change('two'));
    expect(written).toEqual(['first one', 'second two']);
  });
});
