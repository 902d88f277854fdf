import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { createSurveyStore } from '../../src/store/survey-store';
import { commit } from '../../src/survey/commit';
import { correctReading } from '../../src/survey/edits';
import type { Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

const line = madeLine('A', []);
const survey: Survey = {
  ...emptySurvey('kept'),
  lines: [line],
  readings: [300, 310].map((value) => madeReading(line, { value })),
};

function changed(from: Survey, value: number) {
  const change = correctReading(
    from,
    (from.readings[0] as Reading).id,
    { value },
    { by: 'Ada', at: '2026-05-12T10:00:00Z' },
  );
  if (!change.ok) throw new Error(change.sentence);
  return change.value;
}

let databases = 0;
function freshName(): string {
  databases += 1;
  return `test-${databases}`;
}

describe('the surveys on a device', () => {
  it('are none at first', async () => {
    expect(await createSurveyStore(freshName()).lastOpen()).toBeNull();
  });

  it('come back with every change, in order, also to another page', async () => {
    const name = freshName();
    const store = createSurveyStore(name);
    const key = await store.keep(survey);
    let expected = survey;
    for (const value of [1, 2, 3, 4, 5]) {
      const change = changed(expected, value);
      expected = commit(expected, change).survey;
      await store.append(key, change);
    }
    expect(await createSurveyStore(name).lastOpen()).toMatchObject({ key, survey: expected, seq: 5, damage: [] });
  });

  it('are kept apart even when two copies are of one survey', async () => {
    const name = freshName();
    const store = createSurveyStore(name);
    const first = await store.keep(survey);
    await store.append(first, changed(survey, 77));
    const second = await store.keep(survey);
    expect(second).not.toBe(first);
    expect((await store.lastOpen())?.survey).toEqual(survey);
    expect((await store.reopen(first))?.survey.readings[0]?.value).toBe(77);
    expect((await store.lastOpen())?.key).toBe(first);
    expect(await store.list()).toHaveLength(2);
  });

  it('stay when nothing is to be opened by itself any more', async () => {
    const store = createSurveyStore(freshName());
    const key = await store.keep(survey);
    await store.closeLast();
    expect(await store.lastOpen()).toBeNull();
    expect(await store.list()).toMatchObject([{ key, name: 'kept', archivedAt: null }]);
    await store.archive(key, true);
    expect((await store.list())[0]?.archivedAt).not.toBeNull();
    expect((await store.reopen(key))?.survey).toEqual(survey);
  });
});
