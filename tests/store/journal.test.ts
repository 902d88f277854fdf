import 'fake-indexeddb/auto';
import { deleteDB, type IDBPDatabase, openDB } from 'idb';
import { beforeEach, describe, expect, it } from 'vitest';
import { NotKeptHere, WrittenElsewhere } from '../../src/store/failures';
import { createSurveyStore, type SurveyStore } from '../../src/store/survey-store';
import { type Change, commit } from '../../src/survey/commit';
import { MOST_UNDONE } from '../../src/survey/history';
import type { Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

const line = madeLine('A', []);
const survey: Survey = {
  ...emptySurvey('journal'),
  lines: [line],
  readings: [300, 310].map((value) => madeReading(line, { value })),
};
const [first, second] = survey.readings as [Reading, Reading];
const put = (reading: Reading, value: number): Change => ({
  label: `to ${value}`,
  put: { readings: [{ ...reading, value }] },
});
const values = (kept: { survey: Survey } | null) => kept?.survey.readings.map(({ value }) => value);

let databases = 0;
let name: string;
let store: SurveyStore;
let key: string;

beforeEach(async () => {
  databases += 1;
  name = `journal-${databases}`;
  store = createSurveyStore(name, { later: () => {} });
  key = await store.keep(survey);
});

/** The database itself, to do harm to it. */
async function harmed(harm: (database: IDBPDatabase) => Promise<unknown>): Promise<SurveyStore> {
  const database = await openDB(name, 2);
  await harm(database);
  database.close();
  return createSurveyStore(name, { later: () => {} });
}

const changed = (row: Record<string, unknown>, change: Record<string, unknown>) => ({ ...row, ...change });

describe('a damaged journal', () => {
  it('gives all but the damaged entry, which is set aside once and never deleted', async () => {
    for (const value of [1, 2]) await store.append(key, put(first, value));
    await store.append(key, put(second, 77));
    await store.append(key, put(first, 3));
    const damaged = await harmed(async (database) => {
      const row = await database.get('journal', [key, 3]);
      await database.put('journal', changed(row, { text: row.text.replace('77', '78') }));
    });
    const kept = await damaged.lastOpen();
    expect(values(kept)).toEqual([3, 310]);
    expect(kept?.damage).toMatchObject([{ what: 'change', seq: 3, count: 1, reason: 'it is not what was written' }]);
    const [aside] = await damaged.quarantined();
    expect(JSON.stringify(aside?.raw)).toContain('78');
    // Told once; nothing goes away, and what is entered next is kept.
    await damaged.append(key, put(first, 4));
    const again = await createSurveyStore(name).lastOpen();
    expect([values(again), again?.damage]).toEqual([[4, 310], []]);
    expect(await damaged.quarantined()).toHaveLength(1);
    await harmed(async (database) => expect(await database.count('journal')).toBe(5));
  });

  it.each([
    ['its text is cut off', (row: { text: string }) => changed({ ...row }, { text: row.text.slice(0, 40) })],
    ['its digest is gone', ({ digest: _, ...rest }: Record<string, unknown>) => rest],
    ['it is of another kind', (row: object) => changed({ ...row }, { kind: 'undo' })],
    ['it is no text', (row: object) => changed({ ...row }, { text: 5 })],
  ])('finds an entry damaged when %s', async (_, harm) => {
    await store.append(key, put(first, 1));
    await store.append(key, put(second, 2));
    const damaged = await harmed(async (database) => {
      await database.put('journal', (harm as (row: unknown) => unknown)(await database.get('journal', [key, 1])));
    });
    const kept = await damaged.lastOpen();
    expect(values(kept)).toEqual([300, 2]);
    expect(kept?.damage).toHaveLength(1);
  });

  it('tells of entries that are gone, in the middle and at the end', async () => {
    for (const value of [1, 2, 3, 4, 5, 6]) await store.append(key, put(first, value));
    const damaged = await harmed(async (database) => {
      for (const seq of [2, 3, 6]) await database.delete('journal', [key, seq]);
    });
    const kept = await damaged.lastOpen();
    expect(values(kept)).toEqual([5, 310]);
    expect(kept?.damage).toMatchObject([
      { what: 'missing_changes', seq: 2, count: 2 },
      { what: 'missing_changes', seq: 6, count: 1 },
    ]);
    expect(await damaged.append(key, put(first, 7), { after: kept?.seq ?? 0 })).toBe(7);
    expect(values(await damaged.lastOpen())).toEqual([7, 310]);
  });

  it('is still worth something when the survey as it was first kept is not', async () => {
    await store.append(key, put(first, 1));
    await store.append(key, put(second, 2));
    const damaged = await harmed(async (database) => {
      const row = await database.get('bases', [key, 0]);
      await database.put('bases', changed(row, { text: row.text.slice(0, 100) }));
    });
    const kept = await damaged.lastOpen();
    expect(values(kept)).toEqual([1, 2]);
    expect(kept?.survey.site.name).toBe('journal');
    expect(kept?.damage).toMatchObject([{ what: 'survey' }]);
    expect(kept?.damage[0]?.replaced).toBeUndefined();
    expect(await damaged.quarantined()).toMatchObject([{ of: key, what: 'survey', raw: { seq: 0 } }]);
  });

  it('is found by a survey whose heading is gone', async () => {
    await store.append(key, put(first, 1));
    const damaged = await harmed((database) => database.delete('heads', key));
    expect((await damaged.list()).map((each) => each.key)).toEqual([key]);
    expect(values(await damaged.reopen(key))).toEqual([1, 310]);
    expect(await damaged.append(key, put(first, 2))).toBe(2);
    expect((await damaged.list())[0]?.name).toBe('journal');
  });
});

describe('what can be undone', () => {
  it('survives reopening: edits, what was taken back and what was done again', async () => {
    let [open, after] = [survey, 0];
    const enter = async (change: Change, kind: 'do' | 'undo' | 'redo'): Promise<Change> => {
      const { survey: next, undo } = commit(open, change);
      open = next;
      after = await store.append(key, change, { kind, after });
      return undo;
    };
    const backs: Change[] = [];
    for (const value of [1, 2, 3]) backs.push(await enter(put(first, value), 'do'));
    const redo3 = await enter(backs.pop() as Change, 'undo');
    const redo2 = await enter(backs.pop() as Change, 'undo');
    backs.push(await enter(redo2, 'redo'));
    const kept = await createSurveyStore(name).lastOpen();
    expect(kept?.survey).toEqual(open);
    expect(kept?.history).toEqual({ undo: backs, redo: [redo3] });
    expect(values({ survey: commit(open, redo3).survey })).toEqual([3, 310]);
  });
});

describe('a long journal', () => {
  const fill = async (from: number, to: number): Promise<void> => {
    for (let value = from; value <= to; value += 1) await store.append(key, put(first, value));
  };
  const bases = async (): Promise<number[]> => {
    let found: number[] = [];
    await harmed(async (database) => {
      found = (await database.getAllKeys('bases')).map((row) => (row as [string, number])[1]);
    });
    return found;
  };

  it('gets a new base that leaves the last edits to be undone; the base before it stays', async () => {
    await fill(1, 300);
    await store.compact(key);
    expect(await bases()).toEqual([0, 300 - MOST_UNDONE]);
    const kept = await createSurveyStore(name).lastOpen();
    expect(values(kept)).toEqual([300, 310]);
    expect(kept?.history.undo).toHaveLength(MOST_UNDONE);
    await fill(301, 450);
    await store.compact(key);
    expect(await bases()).toEqual([100, 250]);
    expect(values(await createSurveyStore(name).lastOpen())).toEqual([450, 310]);
  });

  it('is rebuilt from the base before when the newest is damaged', async () => {
    await fill(1, 300);
    await store.compact(key);
    const damaged = await harmed(async (database) => {
      const row = await database.get('bases', [key, 100]);
      await database.put('bases', changed(row, { text: row.text.replace('"value":100', '"value":999') }));
    });
    const kept = await damaged.lastOpen();
    expect(values(kept)).toEqual([300, 310]);
    expect(kept?.damage).toMatchObject([{ what: 'survey', seq: 100, replaced: true }]);
  });

  it('is left as it is where something in it is damaged', async () => {
    await fill(1, 300);
    const damaged = await harmed((database) => database.delete('journal', [key, 50]));
    await damaged.compact(key);
    expect(await bases()).toEqual([0]);
  });

  it('gets its base by itself, at a quiet moment', async () => {
    const quiet: (() => void)[] = [];
    store = createSurveyStore(name, { later: (work) => quiet.push(work) });
    await fill(1, 700);
    expect(quiet).toHaveLength(1);
    quiet[0]?.();
    await expect.poll(bases).toEqual([0, 500]);
  });
});

describe('a change', () => {
  it('is refused where another page has written behind what the writer knows', async () => {
    const other = createSurveyStore(name);
    await store.append(key, put(first, 1), { after: 0 });
    await expect(other.append(key, put(first, 2), { after: 0 })).rejects.toThrow(WrittenElsewhere);
    expect(await other.changesAfter(key, 0)).toMatchObject([{ seq: 1, kind: 'do', change: { label: 'to 1' } }]);
    await other.append(key, put(first, 2), { after: 1 });
    expect(values(await store.read(key))).toEqual([2, 310]);
  });

  it('that is asked for again after an uncertain end is not written twice', async () => {
    expect(await store.append(key, put(first, 1), { after: 0 })).toBe(1);
    expect(await store.append(key, put(first, 1), { after: 0 })).toBe(1);
    expect((await store.read(key))?.seq).toBe(1);
  });

  it('is not written into nothing when the browser has deleted what it stored', async () => {
    await deleteDB(name);
    await expect(store.append(key, put(first, 1), { after: 0 })).rejects.toThrow(NotKeptHere);
  });

  it('is written with a fresh handle where the browser has dropped the one there was', async () => {
    await store.append(key, put(first, 1), { after: 0 });
    const { transaction } = IDBDatabase.prototype;
    let dropped = 0;
    IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...given) {
      IDBDatabase.prototype.transaction = transaction;
      dropped += 1;
      this.close();
      return Reflect.apply(transaction, this, given) as IDBTransaction;
    };
    expect(await store.append(key, put(first, 2), { after: 1 })).toBe(2);
    expect(dropped).toBe(1);
    expect(values(await store.read(key))).toEqual([2, 310]);
  });
});

describe('a database of the first version', () => {
  it('is read as it is, with all its changes, and goes on in the new shape', async () => {
    const old = `old-${name}`;
    const database = await openDB(old, 1, {
      upgrade(fresh) {
        fresh.createObjectStore('surveys', { keyPath: 'key' });
        fresh.createObjectStore('changes', { autoIncrement: true }).createIndex('of', 'of');
        fresh.createObjectStore('marks');
      },
    });
    await database.put('surveys', { key: 'one', name: 'journal', survey });
    await database.put('surveys', { key: 'two', name: 'other', survey: { ...survey, site: null } });
    await database.put('marks', 'one', 'open');
    await database.add('changes', { of: 'one', change: put(first, 1) });
    await database.add('changes', { of: 'two', change: put(first, 5) });
    await database.add('changes', { of: 'one', change: put(second, 2) });
    await database.add('changes', { of: 'one', change: { no: 'label' } });
    await database.add('changes', { of: 'one', change: put(first, 3) });
    database.close();

    const upgraded = createSurveyStore(old);
    const kept = await upgraded.lastOpen();
    expect(kept?.key).toBe('one');
    expect(values(kept)).toEqual([3, 2]);
    expect(kept?.damage).toMatchObject([{ what: 'change', seq: 3 }]);
    expect((await upgraded.list()).map((each) => each.name)).toEqual(['journal', 'other']);
    expect(await upgraded.append('one', put(second, 4), { after: kept?.seq ?? 0 })).toBe(5);
    const again = await createSurveyStore(old).lastOpen();
    expect(values(again)).toEqual([3, 4]);
    const partly = await upgraded.reopen('two');
    expect(values(partly)).toEqual([5]);
    expect(await upgraded.quarantined()).toMatchObject([
      { of: 'one', what: 'change', raw: { text: '{"no":"label"}' } },
      { of: 'two', what: 'survey' },
    ]);
  });
});
