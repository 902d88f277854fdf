import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { createHere, type Locator } from '../../src/app/field/position/here';
import { saidInForm } from '../../src/app/field/setup';
import { type ArrivedFix, fixesSince } from '../../src/app/state/gps-average';
import { appraise } from '../../src/appraise';
import { createSurveyStore } from '../../src/store/survey-store';
import { type Change, commit } from '../../src/survey/commit';
import { correctReading } from '../../src/survey/edits';
import { mergeSurveys } from '../../src/survey/merge-surveys';
import type { Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading, seeded } from '../helpers/made-survey';

/*
 * The clock of a phone is wrong, or is set while the page is open. A year here is 365 days.
 */

const YEAR_MS = 365 * 24 * 3_600_000;
const NOON_MS = Date.UTC(2026, 4, 12, 12);
const iso = (timeMs: number): string => new Date(timeMs).toISOString();

const line = madeLine('A', [
  { chainageM: 0, lon: 10, lat: 47 },
  { chainageM: 40, lon: 10.0005, lat: 47 },
]);
const outing = madeOuting('2026-05-12', { date: '2026-05-12' });
const first = madeReading(line, { value: 300, midpoint_m: 10, spacing_m: 2, hookup: 'pole_pole' });
const survey: Survey = { ...emptySurvey('clock'), lines: [line], outings: [outing], readings: [first] };

const corrected = (before: Survey, value: number, at: string): Change => {
  const change = correctReading(before, first.id, { value }, { by: 'Ada', at });
  if (!change.ok) throw new Error(change.sentence);
  return change.value;
};
const valueIn = ({ readings }: Survey): number | null | undefined => readings.find(({ id }) => id === first.id)?.value;

describe('a journal under a clock that is set a year back and a year ahead between edits', () => {
  it('gives every edit in the order in which it was made, and takes them back in the other', async () => {
    let nowMs = NOON_MS;
    const store = createSurveyStore('clock-journal', { now: () => iso(nowMs), later: () => {} });
    const key = await store.keep(survey);
    let shown = survey;
    for (const [i, jumpMs] of [0, -YEAR_MS, 2 * YEAR_MS, -YEAR_MS, 0, -YEAR_MS].entries()) {
      nowMs += jumpMs + 1000;
      const change = corrected(shown, 301 + i, iso(nowMs));
      shown = commit(shown, change).survey;
      await store.append(key, change);
    }
    await store.compact(key);
    const kept = await createSurveyStore('clock-journal', { later: () => {} }).lastOpen();
    if (!kept) throw new Error('nothing was kept');
    expect(kept.survey).toEqual(shown);
    expect(kept.seq).toBe(6);
    let back = kept.survey;
    const values = kept.history.undo.toReversed().map((change) => {
      back = commit(back, change).survey;
      return valueIn(back);
    });
    expect(values).toEqual([305, 304, 303, 302, 301, 300]);
    expect(back).toEqual(survey);
  });
});

describe('two copies of which one was changed under a clock a year behind', () => {
  const changedLate = commit(survey, corrected(survey, 410, iso(NOON_MS - YEAR_MS))).survey;
  const merged = (mine: Survey, theirs: Survey): Survey => {
    const outcome = mergeSurveys(mine, theirs);
    if (!outcome.ok) throw new Error(outcome.sentence);
    return outcome.value.survey;
  };

  it('come to the change, whoever joins them', () => {
    const read = { ...survey, readings: [{ ...first, revised: { at: iso(NOON_MS), by: 'Ben', count: 0 } }] };
    expect(valueIn(merged(read, changedLate))).toBe(410);
    expect(valueIn(merged(changedLate, read))).toBe(410);
  });

  it('ask where both were changed: no clock decides', () => {
    const other = commit(survey, corrected(survey, 520, iso(NOON_MS))).survey;
    const outcome = mergeSurveys(changedLate, other);
    expect(outcome.ok && outcome.value.conflicts.map(({ choice }) => choice)).toEqual([null]);
    expect(outcome.ok && valueIn(outcome.value.survey)).toBe(410);
  });
});

describe('drift within a day of which the clock was set meanwhile', () => {
  /** Places read three times; `timeOf` says when a visit was, by hours from noon, and `rise` how much each is above the last. */
  const drifts = (timeOf: (hour: number, visit: number) => string, rise: number): readonly string[] => {
    const random = seeded(7);
    const readings = [0, 1, 2].flatMap((visit) =>
      [12, 16, 20, 24].map(
        (midpoint, i): Reading =>
          madeReading(line, {
            outing: outing.id,
            midpoint_m: midpoint,
            spacing_m: 2,
            hookup: 'pole_pole',
            value: 300 * (1 + rise) ** visit * (1 + 0.004 * (random() - 0.5)),
            time: timeOf(2 * visit + 0.1 * i, visit),
          }),
      ),
    );
    return appraise({ ...survey, readings })
      .doubts.filter(({ code }) => code === 'time_drift')
      .map(({ sentence }) => sentence);
  };
  const at = (hour: number): number => NOON_MS + hour * 3_600_000;

  it('is said with the hours of the day where the clock is right', () => {
    expect(drifts((hour) => iso(at(hour)), 0.15)).toEqual([expect.stringMatching(/rise by 3[45] % in 4\.3 h/)]);
  });

  it.each([
    ['back', -1],
    ['ahead', 1],
  ])('is never told over the year that the clock was set %s', (_, sign) => {
    const jumped = (from: number) => (hour: number, visit: number) =>
      iso(at(hour) + (visit >= from ? sign * YEAR_MS : 0));
    for (const sentence of [...drifts(jumped(1), 0.15), ...drifts(jumped(2), 0.15)]) {
      const [, hours] = /in ([\d.]+) h/.exec(sentence) ?? [];
      expect(Number(hours)).toBeLessThan(5);
    }
    // The two visits by one clock still tell it.
    expect(drifts(jumped(1), 0.15)).toHaveLength(1);
    expect(drifts(jumped(1), 0)).toEqual([]);
  });

  it('takes no time from a mere day, and none between a wall clock and one with a zone', () => {
    expect(drifts((hour, visit) => (visit === 0 ? '2026-05-12' : iso(at(hour))), 0.15)).toEqual([
      expect.stringMatching(/rise by 1[5-9] % in 2\.3 h/),
    ]);
    const wall = (hour: number, visit: number) =>
      visit === 2 ? iso(at(hour) + 9 * 3_600_000).slice(0, 16) : iso(at(hour));
    expect(drifts(wall, 0.15)).toEqual([expect.stringMatching(/rise by 1[5-9] % in 2\.3 h/)]);
  });
});

describe('fixes of a device', () => {
  const TAP_MS = 5000;
  /** A fix that came so long after the page began, its stamp by a clock that is `aheadMs` ahead of the page's. */
  const fix = (cameMs: number, aheadMs: number, delayMs = 200): ArrivedFix => ({
    ...{ lon: 10, lat: 47, accuracyM: 4, altitudeM: null },
    cameMs,
    timeMs: cameMs - delayMs + aheadMs,
  });
  const taken = (fixes: readonly ArrivedFix[], deviceAheadMs: number): readonly number[] =>
    fixesSince(fixes, TAP_MS, deviceAheadMs).map(({ timeMs }) => fixes.findIndex((each) => each.timeMs === timeMs));

  it.each([
    ['right', 0],
    ['a minute fast', 60_000],
    ['a minute slow', -60_000],
    ['a year fast', YEAR_MS],
    ['a year slow', -YEAR_MS],
  ])('are taken from the tap on where its clock is %s by that of the satellites', (_, fastMs) => {
    const before = fix(5300, NOON_MS, 90_000);
    expect(taken([before, fix(6000, NOON_MS), fix(7000, NOON_MS, 350)], NOON_MS + fastMs)).toEqual([1, 2]);
  });

  it('that are the only one are believed where the clock says that it was made since', () => {
    expect(taken([fix(5300, NOON_MS)], NOON_MS)).toEqual([0]);
    expect(taken([fix(5300, NOON_MS, 90_000)], NOON_MS)).toEqual([]);
    // Two from before are no better than one.
    expect(taken([fix(5300, NOON_MS, 90_000), fix(5400, NOON_MS, 40_000)], NOON_MS)).toEqual([]);
  });

  it('are some at least where the clock that stamps them jumps meanwhile', () => {
    for (const jumpMs of [-YEAR_MS, YEAR_MS]) {
      const now = NOON_MS + jumpMs;
      expect(taken([fix(5500, NOON_MS), fix(6500, NOON_MS), fix(7500, now), fix(8500, now)], now)).toHaveLength(2);
    }
  });
});

describe('how old the device’s own place is', () => {
  const watched = () => {
    let give: (stamp: number) => void = () => {};
    const locator: NonNullable<Locator> = {
      watchPosition(onFix) {
        const coords = { longitude: 10, latitude: 47, accuracy: 5, heading: null, speed: null };
        give = (timestamp) => onFix({ coords, timestamp } as GeolocationPosition);
        return 1;
      },
      clearWatch() {},
    };
    const clock = { pageMs: 1000, calendarMs: NOON_MS };
    const here = createHere(
      () => locator,
      () => clock.pageMs,
      () => clock.calendarMs,
    );
    here.show();
    return { here, clock, give: (stamp: number) => give(stamp) };
  };

  it('is told of one from before, and not of those that come, whatever the clock is set to', () => {
    const { here, clock, give } = watched();
    give(NOON_MS - 60_000);
    expect(here.get().oldForS).toBe(60);
    for (const jumpMs of [YEAR_MS, -2 * YEAR_MS, YEAR_MS]) {
      clock.calendarMs += jumpMs;
      clock.pageMs += 1000;
      give(NOON_MS + clock.pageMs);
      expect(here.get().oldForS).toBeNull();
    }
    here.hide();
  });

  it('grows while the same one is told again', () => {
    const { here, clock, give } = watched();
    give(NOON_MS);
    clock.pageMs += 15_000;
    give(NOON_MS);
    expect(here.get().oldForS).toBe(15);
    here.hide();
  });
});

describe('an outing that a wrong clock named', () => {
  const AUTHOR = { by: 'Ada', at: '2026-05-12T12:00:00Z' };
  const wrong = madeOuting('2025-05-12', { date: '2025-05-12' });
  const said = (name: string): Record<string, string> => ({
    ...{ name, unit: 'ohm_m', from: '0', to: '10', step: '1', spacings: '2' },
  });
  const dateAfter = (name: string, before: Parameters<typeof saidInForm>[1]['outing']): string | null | undefined => {
    const form = saidInForm((field) => said(name)[field] ?? '', { outing: before, hookup: 'pole_pole', line: line.id });
    const change = form.ok ? form.value.changeFor({ ...survey, outings: [wrong] }, 'seed', AUTHOR) : form;
    if (!change.ok) throw new Error(change.sentence);
    return change.value.put?.outings?.[0]?.date;
  };

  it('has another day once it is called by another day', () => {
    expect(dateAfter('2026-05-12', wrong)).toBe('2026-05-12');
    expect(dateAfter('12.05.2026', wrong)).toBe('2026-05-12');
    expect(dateAfter('12.05.2026', null)).toBe('2026-05-12');
  });

  it('keeps its day where its name stays, or is none', () => {
    expect(dateAfter('2025-05-12', { ...wrong, date: '2025-05-11' })).toBe('2025-05-12');
    expect(dateAfter('Second day', wrong)).toBe('2025-05-12');
  });
});
