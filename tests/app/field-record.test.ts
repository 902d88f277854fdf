import { describe, expect, it } from 'vitest';
import { type FieldPlan, planFrom } from '../../src/app/field/field-plan';
import { type FieldEntry, fieldRecord, limitIn, readingFrom, rodsAt } from '../../src/app/field/field-record';
import { attemptOn, BEFORE_EVERY_TOUCH, overRangeSteps } from '../../src/app/field/over-range-path';
import { seatingsFor } from '../../src/app/field/seatings';
import { commit } from '../../src/survey/commit';
import { addReading } from '../../src/survey/edits';
import { emptySurvey } from '../../src/survey/empty-survey';
import { makeId } from '../../src/survey/ids';
import { addOuting, correctOuting } from '../../src/survey/outing-edits';
import type { Survey } from '../../src/survey/survey';
import { readSurveyDocument } from '../../src/survey/versions';

const AUTHOR = { by: 'test', at: '2026-05-12T10:00:00Z' };
const LINE = makeId('line', 'seed', 'A');

function withOuting(wetting: 'none' | 'water' = 'none', saltWaterAllowed = false): { survey: Survey; plan: FieldPlan } {
  const empty = emptySurvey('seed', 'Site');
  const line = { id: LINE, revised: { at: null, by: null, count: 0 }, name: 'A', path: [], profile: [] };
  const change = addOuting(
    { ...empty, lines: [line] },
    {
      name: '2026-05-12',
      unit: 'ohm_m',
      hookup: 'two_probe',
      wetting,
      saltWaterAllowed,
      meter: { upper_limit: 20, upper_limit_unit: 'kohm_m' },
    },
    'seed',
    AUTHOR,
  );
  if (!change.ok) throw new Error(change.sentence);
  const { survey } = commit({ ...empty, lines: [line] }, change.value);
  const outing = survey.outings[0]?.id;
  if (!outing) throw new Error('no outing');
  const plan = { outing, line: LINE, order: 'ladder' as const, stationsM: [10, 12], spacingsM: [2, 4] };
  return {
    survey,
    plan: { ...plan, n: null, innerSpacingM: null, leapfrog: false, again: false, rodsFromM: null, rodsToM: null },
  };
}

const PLAIN: Omit<FieldEntry, 'spot' | 'value'> = {
  wetting: null,
  reDriven: [],
  drivenDepthM: null,
  meterSpacingM: null,
  note: '',
  time: AUTHOR.at,
};

function recorded(survey: Survey, plan: FieldPlan, entry: Partial<FieldEntry> & Pick<FieldEntry, 'value'>): Survey {
  const record = fieldRecord(survey, plan);
  const spot = entry.spot ?? record?.next;
  if (!record || !spot) throw new Error('nothing to record');
  const said = readingFrom(survey, record, { ...PLAIN, ...entry, spot });
  const change = addReading(survey, said, `seed ${survey.readings.length}`, AUTHOR);
  if (!change.ok) throw new Error(change.sentence);
  return commit(survey, change.value).survey;
}

const SPOT = { stationM: 10, spacingM: 2 };

describe('a reading taken in the field', () => {
  it('takes spot, unit, hookup, wetting and time from the day, and makes the next spot come up', () => {
    const { survey, plan } = withOuting('water');
    const after = recorded(survey, plan, { value: 485 });
    expect(after.readings[0]).toMatchObject({
      line: LINE,
      outing: plan.outing,
      midpoint_m: 10,
      spacing_m: 2,
      value: 485,
      unit: 'ohm_m',
      hookup: 'two_probe',
      status: 'ok',
      wetting: 'water',
      time: AUTHOR.at,
      seatings: ['2026-05-12 #1', '2026-05-12 #2'],
    });
    expect(after.readings[0]).not.toHaveProperty('repeat');
    expect(fieldRecord(after, plan)).toMatchObject({ next: { stationM: 10, spacingM: 4 }, readCount: 1, spotCount: 4 });
  });

  it('keeps the seatings of a repeat but that of a rod which was driven again', () => {
    const { survey, plan } = withOuting();
    const once = recorded(survey, plan, { value: 485 });
    const again = recorded(once, plan, { value: 490, spot: SPOT });
    expect(again.readings[1]).toMatchObject({ repeat: 1, seatings: ['2026-05-12 #1', '2026-05-12 #2'] });
    const reDriven = recorded(again, plan, { value: 470, spot: SPOT, reDriven: [2] });
    expect(reDriven.readings[2]).toMatchObject({ repeat: 2, seatings: ['2026-05-12 #1', '2026-05-12 #3'] });
  });

  it('over range has no value, and the limit of the meter in the unit of the reading', () => {
    const { survey, plan } = withOuting();
    const [reading] = recorded(survey, plan, { value: null }).readings;
    expect(reading).toMatchObject({ value: null, status: 'over_range', limit: 20000 });
  });

  it('makes a survey that is read again as it was', () => {
    const { survey, plan } = withOuting();
    const after = recorded(recorded(survey, plan, { value: 485, drivenDepthM: 0.3, note: ' by the wall ' }), plan, {
      value: null,
    });
    expect(after.readings[0]).toMatchObject({ driven_depth_m: 0.3, note: 'by the wall' });
    const read = readSurveyDocument(JSON.parse(JSON.stringify(after)));
    expect(read).toEqual({ ok: true, value: after });
  });

  it('has spots of other days behind it, or reads them again where that was said', () => {
    const { survey, plan } = withOuting();
    const readings = recorded(survey, plan, { value: 485 });
    const day = addOuting(
      readings,
      { name: '2026-11-02', unit: 'ohm_m', hookup: 'two_probe', wetting: 'none' },
      'later',
      AUTHOR,
    );
    if (!day.ok) throw new Error(day.sentence);
    const later = commit(readings, day.value).survey;
    const outing = later.outings.at(-1)?.id ?? plan.outing;
    expect(fieldRecord(later, { ...plan, outing })).toMatchObject({
      next: { stationM: 10, spacingM: 4 },
      readCount: 1,
    });
    const again = { ...plan, outing, again: true };
    expect(fieldRecord(later, again)).toMatchObject({ next: SPOT, readCount: 0 });
    const once = recorded(later, again, { value: 470 });
    expect(fieldRecord(once, again)).toMatchObject({ next: { stationM: 10, spacingM: 4 }, readCount: 1 });
    expect(once.readings[1]).not.toHaveProperty('repeat');
  });

  it('waits for a rejected reading to be taken once more', () => {
    const { survey, plan } = withOuting();
    const after = recorded(survey, plan, { value: 485 });
    const rejected = {
      ...after,
      readings: after.readings.map((reading) => ({ ...reading, status: 'rejected' as const })),
    };
    expect(fieldRecord(rejected, plan)?.readCount).toBe(0);
  });

  it('is not begun where the day does not say its unit and hookup, or the line is gone', () => {
    const { survey, plan } = withOuting();
    const unsaid = { ...survey, outings: survey.outings.map((outing) => ({ ...outing, unit: null })) };
    expect(fieldRecord(unsaid, plan)).toBeNull();
    expect(fieldRecord({ ...survey, lines: [] }, plan)).toBeNull();
  });
});

describe('rods', () => {
  it('stand half a spacing to either side for two probes, and remotes are none of them', () => {
    const { plan } = withOuting();
    expect(rodsAt({ hookup: 'two_probe', plan }, SPOT)).toEqual([9, 11]);
    expect(rodsAt({ hookup: 'pole_pole', plan }, SPOT)).toEqual([9, 11]);
    expect(rodsAt({ hookup: 'wenner_alpha', plan }, SPOT)).toEqual([7, 9, 11, 13]);
  });

  it('are new contacts at another spot, unless rods stay in the ground', () => {
    const before = { rodsM: [9, 11], seatings: ['a', 'b'] };
    const fresh = (ordinal: number) => `new ${ordinal}`;
    const none = new Set<number>();
    expect(seatingsFor([11, 13], before, { reDriven: none, leapfrog: false }, fresh)).toEqual(['new 1', 'new 2']);
    expect(seatingsFor([11, 13], before, { reDriven: none, leapfrog: true }, fresh)).toEqual(['b', 'new 1']);
    expect(seatingsFor([9, 11], before, { reDriven: new Set([1]), leapfrog: false }, fresh)).toEqual(['new 1', 'b']);
  });
});

describe('spots whose rods would stand beyond the ends of the tape', () => {
  it('are left out', () => {
    const { survey, plan } = withOuting();
    // Two probes at 10 m: rods at 9 and 11 m, then at 8 and 12 m; at 12 m: 11 and 13 m, then 10 and 14 m.
    const short = { ...plan, rodsFromM: 9, rodsToM: 13 };
    expect(fieldRecord(survey, short)).toMatchObject({ next: { stationM: 10, spacingM: 2 }, spotCount: 2 });
    const after = recorded(survey, short, { value: 485 });
    expect(fieldRecord(after, short)).toMatchObject({ next: { stationM: 12, spacingM: 2 }, readCount: 1 });
    expect(fieldRecord(recorded(after, short, { value: 490 }), short)?.next).toBeNull();
  });
});

describe('an outing', () => {
  it('needs a name of its own and numbers above 0', () => {
    const { survey } = withOuting();
    const said = { name: '2026-05-12', unit: 'ohm', hookup: 'pole_pole', wetting: 'none' } as const;
    expect(addOuting(survey, said, 's', AUTHOR)).toMatchObject({ ok: false, code: 'name_taken' });
    expect(addOuting(survey, { ...said, name: ' ' }, 's', AUTHOR)).toMatchObject({ ok: false, code: 'no_name' });
    const wrong = { ...said, name: 'b', meter: { upper_limit: 0 } };
    expect(addOuting(survey, wrong, 's', AUTHOR)).toMatchObject({ ok: false, code: 'limit_not_positive' });
    const rods = { ...said, name: 'b', rods: [{ length_m: -1 }] };
    expect(addOuting(survey, rods, 's', AUTHOR)).toMatchObject({ ok: false, code: 'rod_not_positive' });
  });

  it('is corrected and can be undone', () => {
    const { survey, plan } = withOuting();
    const change = correctOuting(survey, plan.outing, { unit: 'kohm_m' }, AUTHOR);
    if (!change.ok) throw new Error(change.sentence);
    const { survey: after, undo } = commit(survey, change.value);
    expect(after.outings[0]).toMatchObject({ unit: 'kohm_m', name: '2026-05-12', revised: { count: 1 } });
    expect(commit(after, undo).survey).toEqual(survey);
  });

  it('tells its limit in another unit of the same kind only', () => {
    const { survey } = withOuting();
    const [outing] = survey.outings;
    if (!outing) throw new Error('no outing');
    expect([limitIn(outing, 'ohm_m'), limitIn(outing, 'kohm_m'), limitIn(outing, 'ohm')]).toEqual([20000, 20, null]);
  });
});

describe('the path of a reading over range', () => {
  const outing = (wetting: 'none' | 'water', salt: boolean) => {
    const [first] = withOuting(wetting, salt).survey.outings;
    if (!first) throw new Error('no outing');
    return first;
  };

  it('goes from the gentlest to the harshest, with salt water only where it was said to be allowed', () => {
    const names = (of: ReturnType<typeof outing>) => overRangeSteps(of).map(({ name }) => name);
    expect(names(outing('none', false))).toEqual(['leads', 'deeper', 'water']);
    expect(names(outing('none', true))).toEqual(['leads', 'deeper', 'water', 'salt_water']);
    expect(names(outing('water', false))).toEqual(['leads', 'deeper']);
  });

  it('begins each touch with the meter off and the leads out', () => {
    expect(BEFORE_EVERY_TOUCH).toBe('Meter off, leads out.');
    for (const { doThis, alike, name } of overRangeSteps(outing('none', true))) {
      expect(doThis).toContain('Leads in, meter on, read again.');
      expect(alike).toBe(name !== 'leads');
    }
  });

  it('writes down what was done, and not what was left out', () => {
    const steps = overRangeSteps(outing('none', true));
    expect(attemptOn(steps, { step: 1, done: [0] }, 2)).toEqual({
      wetting: null,
      reDriven: [1, 2],
      note: 'Was over range. Done: leads and jumpers checked; rods driven deeper.',
    });
    expect(attemptOn(steps, { step: 3, done: [2] }, 2)).toEqual({
      wetting: 'salt_water',
      reDriven: [],
      note: 'Was over range. Done: rods wetted with plain water; rods wetted with salt water.',
    });
  });
});

describe('what a device remembers', () => {
  it('is a plan, or nothing', () => {
    const { plan } = withOuting();
    expect(planFrom(JSON.parse(JSON.stringify(plan)))).toEqual(plan);
    for (const wrong of [
      null,
      7,
      {},
      { ...plan, order: 'both' },
      { ...plan, spacingsM: [0] },
      { ...plan, stationsM: [] },
    ]) {
      expect(planFrom(wrong)).toBeNull();
    }
  });
});
