import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, it } from 'vitest';
import { adopt, bringIn } from '../../src/app/adopt';
import type { AppParts } from '../../src/app/app-context';
import { edit, redo, undo } from '../../src/app/edit';
import { createKeeper } from '../../src/app/keeper';
import { INITIAL_STATE } from '../../src/app/state/app-state';
import { reduce } from '../../src/app/state/reduce';
import { createStore } from '../../src/app/state/store';
import { type Drape, joinLayers } from '../../src/exchange/write/layer-collection';
import { createSurveyStore, type SurveyStore } from '../../src/store/survey-store';
import { correctReading, rejectReading } from '../../src/survey/edits';
import type { Reading, Survey } from '../../src/survey/survey';
import type { Computing } from '../../src/workers/findings-client';
import { createFindingsTable } from '../../src/workers/findings-table';
import { emptySurvey, madeLine, madeReading, madeReference } from '../helpers/made-survey';

const line = madeLine('A', [
  { chainageM: 0, lon: -91.9, lat: 37.4 },
  { chainageM: 40, lon: -91.8995483, lat: 37.4 },
]);
const survey: Survey = {
  ...emptySurvey('edited'),
  lines: [line],
  readings: [6, 9, 12, 15, 18].map((chainage) =>
    madeReading(line, { midpoint_m: chainage, spacing_m: 4, value: 300, hookup: 'pole_pole' }),
  ),
  references: [madeReference([6, 9, 12].map((chainageM) => ({ line, chainageM })))],
};
const last = survey.readings[4] as Reading;

let databases = 0;

/** The app's parts with the worker's own table in place of the worker. */
function parts(device: SurveyStore): AppParts {
  const store = createStore(INITIAL_STATE, reduce);
  const table = createFindingsTable();
  const computed = (drape: Drape): Computing => ({
    far: Promise.resolve(joinLayers(table.drawn(drape, 'far').map(([, layers]) => layers))),
    layers: Promise.resolve(joinLayers(table.drawn(drape, 'far').map(([, layers]) => layers))),
    findings: Promise.resolve(table.findings()),
  });
  const client: AppParts['client'] = {
    open: async (bytes, file) => table.open(bytes, file),
    survey: async () => table.survey(),
    take(taken, drape) {
      table.take(taken);
      return computed(drape);
    },
    change(change, drape) {
      table.change(change);
      return computed(drape);
    },
    search(result, drape) {
      table.search(result);
      return computed(drape);
    },
    compute: computed,
    layerFile: async (name, drape) => table.layerFile(name, drape),
    end: () => {},
  };
  return { store, client, device, keep: createKeeper(store, device) };
}

describe('an edit in the app', () => {
  let device: SurveyStore;
  let app: AppParts;
  const content = () => {
    const { phase } = app.store.get();
    if (phase.kind !== 'ready') throw new Error('nothing is open');
    return phase.content;
  };
  const ratioOf = (id: string) =>
    content().findings.lines[0]?.midpoints.find(({ readings }) => readings.some((reading) => reading === id))?.ratio;

  beforeEach(async () => {
    databases += 1;
    device = createSurveyStore(`edit-${databases}`);
    app = parts(device);
    await adopt(app, survey, []);
  });

  it('reaches survey, findings and layers, can be undone and done again', async () => {
    expect(await edit(app, (open, author) => correctReading(open, last.id, { value: 600 }, author))).toMatchObject({
      ok: true,
    });
    await expect.poll(() => ratioOf(last.id)).toBeCloseTo(2, 6);
    expect(app.store.get().drawn?.layers.segments.features.map(({ properties }) => properties.grade)).toContain(
      'strong',
    );
    expect(app.store.get().history.undo.map(({ label }) => label)).toEqual(['Correct a reading']);
    await undo(app);
    expect(content().survey).toEqual(survey);
    await expect.poll(() => ratioOf(last.id)).toBeCloseTo(1, 6);
    await redo(app);
    await expect.poll(() => ratioOf(last.id)).toBeCloseTo(2, 6);
    await undo(app);
    await undo(app);
    expect(content().survey).toEqual(survey);
  });

  it('that is refused changes nothing and comes back with its sentence', async () => {
    const refused = await edit(app, (open, author) => rejectReading(open, last.id, '', author));
    expect(refused).toMatchObject({ ok: false, code: 'no_reason' });
    expect(content().survey).toBe(survey);
    expect(app.store.get().history.undo).toEqual([]);
  });

  it('is on the device when it is said to be kept, undo and redo included', async () => {
    await edit(app, (open, author) => correctReading(open, last.id, { value: 600 }, author));
    await edit(app, (open, author) => correctReading(open, last.id, { value: 700 }, author));
    await undo(app);
    expect(app.store.get().kept).toBe('kept');
    expect((await device.lastOpen())?.survey).toEqual(content().survey);
  });

  it('says so when the device does not keep it, and goes on', async () => {
    const broken: SurveyStore = { ...device, append: () => Promise.reject(new Error('the disk is full')) };
    app = parts(broken);
    await adopt(app, survey, []);
    await edit(app, (open, author) => correctReading(open, last.id, { value: 600 }, author));
    expect(app.store.get().kept).toBe('not_kept');
    expect(app.store.get().trouble).toContain('the disk is full');
    await expect.poll(() => ratioOf(last.id)).toBeCloseTo(2, 6);
  });

  it('of a survey that was only looked at keeps it whole first', async () => {
    app.keep.follow(null);
    await edit(app, (open, author) => correctReading(open, last.id, { value: 600 }, author));
    const kept = await device.lastOpen();
    expect(kept?.survey.readings).toHaveLength(5);
    expect(kept?.survey).toEqual(content().survey);
  });

  it('keeps to the order of fast edits', async () => {
    await Promise.all(
      [1, 2, 3, 4, 5, 6].map((value) =>
        edit(app, (open, author) => correctReading(open, last.id, { value: 100 * value }, author)),
      ),
    );
    expect(content().survey.readings[4]?.value).toBe(600);
    await expect.poll(() => ratioOf(last.id)).toBeCloseTo(2, 6);
    expect((await device.lastOpen())?.survey).toEqual(content().survey);
    expect(app.store.get().history.undo).toHaveLength(6);
  });

  it('of bringing in more files is one edit, that undo takes back whole', async () => {
    const more = madeReading(line, { midpoint_m: 30, spacing_m: 4, value: 300, hookup: 'pole_pole' });
    const corrected = { ...last, value: 450 };
    const grown: Survey = structuredClone({
      ...survey,
      readings: [...survey.readings.slice(0, 4), corrected, more],
    });
    await bringIn(app, grown, []);
    expect(content().survey.readings.map(({ value }) => value)).toEqual([300, 300, 300, 300, 450, 300]);
    expect(app.store.get().history.undo.map(({ label }) => label)).toEqual(['Bring in files']);
    expect((await device.lastOpen())?.survey).toEqual(content().survey);
    await undo(app);
    expect(content().survey).toEqual(survey);
    expect(ratioOf(more.id)).toBeUndefined();
  });

  it('of another survey opens it, with nothing to undo', async () => {
    await edit(app, (open, author) => correctReading(open, last.id, { value: 600 }, author));
    await adopt(app, emptySurvey('another'), []);
    expect(content().survey.site.name).toBe('another');
    expect(app.store.get().history.undo).toEqual([]);
    expect((await device.list()).map(({ name }) => name).sort()).toEqual(['another', 'edited']);
  });
});
