import 'fake-indexeddb/auto';
import { deleteDB, openDB } from 'idb';
import { beforeEach, describe, expect, it } from 'vitest';
import { rowsIn, type SecondCopy } from '../../src/store/second-copy';
import { createSurveyStore, type SurveyStore } from '../../src/store/survey-store';
import type { Change } from '../../src/survey/commit';
import type { Survey } from '../../src/survey/survey';
import { emptySurvey } from '../helpers/made-survey';

const survey: Survey = emptySurvey('copied');
const named = (name: string): Change => ({ label: `Name it ${name}`, site: { ...survey.site, name } });

/** Files in memory, which can be made to fail. */
function files() {
  const texts = new Map<string, string>();
  const state = { full: false, written: 0 };
  const copy: SecondCopy = {
    async write(key, rows, anew) {
      if (state.full) return false;
      const text = rows.map((row) => `\n${JSON.stringify(row)}`).join('');
      state.written += rows.length;
      texts.set(key, anew ? text : (texts.get(key) ?? '') + text);
      return true;
    },
    keys: async () => [...texts.keys()],
    read: async (key) => rowsIn(texts.get(key) ?? ''),
    async lastSeq(key) {
      const last = rowsIn(texts.get(key) ?? '').at(-1) as { seq: number } | undefined;
      return last?.seq ?? null;
    },
  };
  return { copy, texts, state };
}

let databases = 0;
let name: string;
let second: ReturnType<typeof files>;
let store: SurveyStore;
let key: string;
const again = () => createSurveyStore(name, { secondCopy: second.copy, later: () => {} });

beforeEach(async () => {
  databases += 1;
  name = `copied-${databases}`;
  second = files();
  store = again();
  key = await store.keep(survey);
});

describe('the second copy', () => {
  it('gives every survey back when the browser has thrown its database away', async () => {
    for (const to of ['a', 'b', 'c']) await store.append(key, named(to));
    const other = await store.keep(emptySurvey('other'));
    await store.append(other, named('d'));
    await deleteDB(name);
    const fresh = again();
    const kept = await fresh.lastOpen();
    expect(kept).toMatchObject({ key: other, restored: true, damage: [], survey: { site: { name: 'd' } } });
    expect(await fresh.list()).toMatchObject([{ name: 'c' }, { name: 'd' }]);
    const first = await fresh.reopen(key);
    expect(first?.survey.site.name).toBe('c');
    expect(first?.history.undo).toHaveLength(3);
    expect(await fresh.append(key, named('e'), { after: 3 })).toBe(4);
  });

  it('gives it back also under an open page, which goes on as if nothing had been', async () => {
    await store.append(key, named('a'), { after: 0 });
    await deleteDB(name);
    expect(await store.append(key, named('b'), { after: 1 })).toBe(2);
    expect((await again().lastOpen())?.survey.site.name).toBe('b');
  });

  it('replaces entries that are damaged or gone, and the damaged ones are set aside', async () => {
    for (const to of ['a', 'b', 'c']) await store.append(key, named(to));
    const database = await openDB(name, 2);
    await database.put('journal', { ...(await database.get('journal', [key, 2])), text: '{}' });
    await database.delete('journal', [key, 3]);
    await database.delete('bases', [key, 0]);
    database.close();
    const kept = await again().lastOpen();
    expect(kept?.survey.site.name).toBe('c');
    expect(kept?.history.undo).toHaveLength(3);
    expect(kept?.damage.map(({ what, replaced }) => [what, replaced])).toEqual([
      ['survey', true],
      ['change', true],
      ['missing_changes', true],
    ]);
    expect(await again().lastOpen()).toMatchObject({ restored: false, damage: [] });
  });

  it('knows of entries at the end that the database does not know it has lost', async () => {
    for (const to of ['a', 'b', 'c']) await store.append(key, named(to));
    const database = await openDB(name, 2);
    await database.delete('journal', [key, 3]);
    await database.put('heads', { ...(await database.get('heads', key)), seq: 2 });
    database.close();
    expect(await again().lastOpen()).toMatchObject({ restored: true, seq: 3, survey: { site: { name: 'c' } } });
  });

  it('catches up with what it could not take, and a line cut off in the middle harms no other', async () => {
    await store.append(key, named('a'));
    second.state.full = true;
    await store.append(key, named('b'));
    second.state.full = false;
    second.texts.set(key, `${second.texts.get(key)}\n{"of":"${key}","se`);
    await store.append(key, named('c'));
    await deleteDB(name);
    expect(await again().lastOpen()).toMatchObject({ seq: 3, survey: { site: { name: 'c' } } });
  });

  it('is left alone where the browser does not take it, and is whole again after the next opening', async () => {
    second.state.full = true;
    let tried = 0;
    const { write } = second.copy;
    Object.assign(second.copy, {
      write: (...given: Parameters<typeof write>) => {
        tried += 1;
        return write(...given);
      },
    });
    for (let i = 1; i <= 10; i += 1) await store.append(key, named(String(i)));
    expect(tried).toBe(3);
    second.state.full = false;
    const opened = again();
    await opened.append(key, named('last'));
    await deleteDB(name);
    expect(await again().lastOpen()).toMatchObject({ seq: 11, survey: { site: { name: 'last' } } });
  });

  it('takes one row for a change, and becomes short again with the journal', async () => {
    const before = second.state.written;
    for (let i = 1; i <= 300; i += 1) await store.append(key, named(String(i)));
    expect(second.state.written - before).toBe(300);
    await store.compact(key);
    expect(rowsIn(second.texts.get(key) ?? '')).toHaveLength(2 + 300);
    for (let i = 301; i <= 450; i += 1) await store.append(key, named(String(i)));
    await store.compact(key);
    // Two bases, and the journal behind the first of them.
    expect(rowsIn(second.texts.get(key) ?? '')).toHaveLength(2 + 350);
    await deleteDB(name);
    expect((await again().lastOpen())?.survey.site.name).toBe('450');
  });
});
