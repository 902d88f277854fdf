import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createKeeper } from '../../src/app/keeper';
import { INITIAL_STATE } from '../../src/app/state/app-state';
import { reduce } from '../../src/app/state/reduce';
import { createStore } from '../../src/app/state/store';
import { NotKeptHere } from '../../src/store/failures';
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
    async append(key, { label }, { after = 0 } = {}) {
      await write(`${key} ${label}`);
      return after + 1;
    },
    lastOpen: async () => null,
    closeLast: async () => undefined,
    list: async () => [],
    reopen: async () => null,
    read: async () => null,
    changesAfter: async () => [],
    archive: async () => undefined,
    quarantined: async () => [],
    compact: async () => undefined,
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

  it('answers an entry with whether it is on the disk', async () => {
    const { store: disk, state } = device();
    const keeper = createKeeper(createStore(INITIAL_STATE, reduce), disk);
    expect(await keeper.add(SURVEY, change('one'))).toBe(true);
    state.full = true;
    const held = keeper.add(SURVEY, change('two'));
    expect(await held).toBe(false);
    state.full = false;
    expect(await keeper.add(SURVEY, change('three'))).toBe(true);
  });

  it('is kept anew as a whole when what the device had was deleted under the open page, and that is said', async () => {
    const { store: disk, written } = device();
    const store = createStore(INITIAL_STATE, reduce);
    const { append } = disk;
    let isDeleted = true;
    const deleted: SurveyStore = {
      ...disk,
      async append(key, made, options) {
        if (!isDeleted) return append(key, made, options);
        isDeleted = false;
        throw new NotKeptHere();
      },
    };
    const keeper = createKeeper(store, deleted);
    await keeper.follow('gone', 7);
    expect(await keeper.add(SURVEY, change('eight'))).toBe(true);
    expect(written).toEqual(['key-1 Site', 'key-1 eight']);
    expect(store.get().trouble).toContain('was deleted in the meantime');
  });

  it('is told in a sentence that says what helps when the space is full', async () => {
    const { store: disk } = device();
    const store = createStore(INITIAL_STATE, reduce);
    const full = { ...disk, append: () => Promise.reject(new DOMException('Quota.', 'QuotaExceededError')) };
    await createKeeper(store, full).add(SURVEY, change('one'));
    expect(store.get().trouble).toContain('the space for this page is full: delete what you do not need');
  });
});
