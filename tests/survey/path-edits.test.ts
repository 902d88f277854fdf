import { describe, expect, it } from 'vitest';
import { type Change, commit } from '../../src/survey/commit';
import { makeId } from '../../src/survey/ids';
import type { Outcome } from '../../src/survey/outcome';
import type { NewPathItem } from '../../src/survey/path-checks';
import {
  addDrawnLine,
  addPathItem,
  correctPathItem,
  movePoint,
  retirePathItem,
  setLayout,
  startLine,
} from '../../src/survey/path-edits';
import type { Line, PathItem, Position, Survey } from '../../src/survey/survey';
import { readSurveyDocument } from '../../src/survey/versions';
import { emptySurvey, madeLine } from '../helpers/made-survey';

const author = { by: 'Ada', at: '2026-05-12T10:00:00Z' };
const line = madeLine('A', [
  { chainageM: 0, lon: 10, lat: 47, elevationM: 512 },
  { chainageM: 60, lon: 10.0008, lat: 47 },
]);
const other = madeLine('B', [
  { chainageM: 0, lon: 10, lat: 47.001 },
  { chainageM: 60, lon: 10.0008, lat: 47.001 },
]);
const gone = madeLine('gone', [], { retired: true });
const survey: Survey = { ...emptySurvey(), lines: [line, other, gone] };
const [start] = line.path as [PathItem];
const place = (x: number, y: number): Position => ({ x, y, crs: 'EPSG:4326' });

function edited(outcome: Outcome<Change>, before = survey): Survey {
  if (!outcome.ok) throw new Error(outcome.sentence);
  const after = commit(before, outcome.value);
  // Whatever an edit makes is a survey that can be read again, and can be taken back.
  expect(readSurveyDocument(JSON.parse(JSON.stringify(after.survey))).ok).toBe(true);
  expect(commit(after.survey, after.undo).survey).toEqual(before);
  return after.survey;
}

const pathOf = (after: Survey, id = line.id): readonly PathItem[] =>
  after.lines.find((each) => each.id === id)?.path ?? [];

const fix: NewPathItem = { kind: 'fix', chainage_m: 30, position: place(10.0004, 47.0001), corner: true };
const leg: NewPathItem = {
  kind: 'leg',
  from_chainage_m: 0,
  bearing_deg: 75,
  bearing_reference: 'magnetic',
  distance_m: 30,
  date: '2026-05-12',
};
const tapes: NewPathItem = {
  kind: 'two_tapes',
  chainage_m: 30,
  first: place(10, 47),
  first_distance_m: 30,
  second: place(10.0008, 47),
  second_distance_m: 31,
  side: 'left',
};
const offset: NewPathItem = {
  kind: 'offset',
  chainage_m: 30,
  base_line: other.id,
  base_chainage_m: 30,
  offset_right_m: 10,
};
const sounding: NewPathItem = {
  kind: 'bearing',
  chainage_m: 30,
  position: place(10.0004, 47),
  bearing_deg: 90,
  bearing_reference: 'true',
};

describe('a point or leg of a line', () => {
  it.each([
    ['a placed point', fix, 'Add a point'],
    ['a leg of tape and compass', leg, 'Add a leg'],
    ['two tapes', tapes, 'Add a point'],
    ['an offset from another line', offset, 'Add a point'],
    ['a centre with a bearing', sounding, 'Add a point'],
  ])('is added as it was said: %s', (_, item, label) => {
    const outcome = addPathItem(survey, line.id, item, 'seed', author);
    expect(outcome.ok && outcome.value.label).toBe(label);
    const after = edited(outcome);
    expect(pathOf(after)).toHaveLength(3);
    expect(pathOf(after)[2]).toMatchObject(item);
    expect(after.lines[0]?.revised).toEqual({ at: author.at, by: 'Ada', count: 1 });
    expect(after.lines[1]).toBe(other);
  });

  it('has an id of its own', () => {
    const first = edited(addPathItem(survey, line.id, fix, 'seed', author));
    const second = edited(addPathItem(first, line.id, fix, 'seed', author), first);
    expect(new Set(pathOf(second).map(({ id }) => id)).size).toBe(4);
  });

  it.each([
    [{ ...fix, chainage_m: Number.NaN }, 'not_a_number'],
    [{ ...fix, chainage_m: 200_000 }, 'chainage_too_far'],
    [{ ...fix, position: place(Number.NaN, 47) }, 'not_a_number'],
    [{ ...leg, distance_m: 0 }, 'distance_not_positive'],
    [{ ...leg, bearing_deg: 400 }, 'not_a_bearing'],
    [{ ...leg, date: null }, 'bearing_needs_date'],
    [{ ...tapes, second_distance_m: -1 }, 'distance_not_positive'],
    [{ ...tapes, second: place(10, 47) }, 'same_place'],
    [{ ...offset, base_line: line.id }, 'base_is_itself'],
    [{ ...offset, base_line: gone.id }, 'no_such_base'],
    [{ ...offset, offset_right_m: Number.NaN }, 'not_a_number'],
    [{ ...sounding, bearing_deg: Number.NaN }, 'not_a_bearing'],
  ] as [NewPathItem, string][])('is refused with what to do: %#, %s', (item, code) => {
    for (const outcome of [
      addPathItem(survey, line.id, item, 'seed', author),
      correctPathItem(survey, line.id, start.id, item, author),
    ]) {
      expect(outcome).toMatchObject({ ok: false, code });
      expect(!outcome.ok && outcome.sentence).toMatch(/\.$/);
    }
  });

  it('is not added to a line that is gone', () => {
    expect(addPathItem(survey, gone.id, fix, 'seed', author)).toMatchObject({ ok: false, code: 'no_such_line' });
  });

  it('is not placed beside a line that is itself placed beside this one, over a third', () => {
    const beside = (name: string, base: Line): Line =>
      madeLine(name, [], { path: [{ ...offset, base_line: base.id, id: makeId('path', 'x', name) } as PathItem] });
    const second = beside('second', line);
    const third = beside('third', second);
    const circle = { ...survey, lines: [line, second, third] };
    const item = { ...offset, base_line: third.id } as NewPathItem;
    expect(addPathItem(circle, line.id, item, 's', author)).toMatchObject({ ok: false, code: 'base_in_a_circle' });
    expect(addPathItem(circle, third.id, { ...offset, base_line: line.id } as NewPathItem, 's', author).ok).toBe(true);
  });

  it('is said anew by another way and keeps its id and its turn', () => {
    const after = edited(correctPathItem(survey, line.id, start.id, { ...tapes, chainage_m: 0 }, author));
    expect(pathOf(after)[0]).toEqual({ ...tapes, chainage_m: 0, id: start.id });
    expect(pathOf(after)[1]).toBe(line.path[1]);
  });

  it('is taken out but stays in the record, once', () => {
    const after = edited(retirePathItem(survey, line.id, start.id, author));
    expect(pathOf(after)[0]).toEqual({ ...start, retired: true });
    expect(retirePathItem(after, line.id, start.id, author)).toMatchObject({ ok: false, code: 'no_such_point' });
  });
});

describe('a point that is moved', () => {
  it('keeps its chainage and height, loses the single fixes of its former place, and is one edit', () => {
    const averaged = { ...fix, singles: [place(10.0004, 47)] } as NewPathItem;
    const before = edited(addPathItem(survey, line.id, averaged, 'seed', author));
    const to = { ...place(10.001, 47.002), source: 'map', accuracy_m: 4, accuracy_level: 95 as const };
    const outcome = movePoint(before, line.id, start.id, to, author);
    expect(outcome.ok && outcome.value.label).toBe('Move a point');
    expect(pathOf(edited(outcome, before))[0]).toEqual({ ...start, position: { ...to, elevation_m: 512 } });

    const single = pathOf(before)[2] as PathItem;
    const moved = pathOf(edited(movePoint(before, line.id, single.id, to, author), before))[2];
    expect(moved).toEqual({ kind: 'fix', id: single.id, chainage_m: 30, corner: true, position: to });
  });

  it('takes along the tapes that start at it, and no others', () => {
    const startPlace = start.kind === 'fix' ? start.position : place(0, 0);
    const before = edited(addPathItem(survey, line.id, { ...tapes, first: startPlace }, 'seed', author));
    const to = place(10.0001, 47.0001);
    const after = pathOf(edited(movePoint(before, line.id, start.id, to, author), before));
    expect(after[2]).toMatchObject({
      first: { ...to, elevation_m: 512 },
      second: tapes.kind === 'two_tapes' && tapes.second,
    });
    expect(after[1]).toBe(line.path[1]);
    const retired = pathOf(edited(retirePathItem(before, line.id, start.id, author), before));
    expect(retired[2]).toBe(pathOf(before)[2]);
  });

  it('is refused where others place it, and where the place is no place', () => {
    const before = edited(addPathItem(survey, line.id, tapes, 'seed', author));
    const byTapes = pathOf(before)[2] as PathItem;
    const to = place(10, 47);
    expect(movePoint(before, line.id, byTapes.id, to, author)).toMatchObject({ ok: false, code: 'not_movable' });
    const nowhere = movePoint(before, line.id, start.id, place(10, Number.NaN), author);
    expect(nowhere).toMatchObject({ ok: false, code: 'not_a_number' });
  });
});

describe('planned electrodes', () => {
  it('are said from, to and every so many metres, and can be taken back', () => {
    const after = edited(setLayout(survey, line.id, { from_m: 0, to_m: 60, step_m: 2 }, author));
    expect(after.lines[0]?.layout).toEqual({ from_m: 0, to_m: 60, step_m: 2 });
    expect(edited(setLayout(after, line.id, null, author), after).lines[0]?.layout).toBeNull();
  });

  it.each([
    [{ from_m: 0, to_m: Number.NaN, step_m: 2 }, 'not_a_number'],
    [{ from_m: 0, to_m: 60, step_m: 0 }, 'step_not_positive'],
    [{ from_m: 60, to_m: 0, step_m: 2 }, 'ends_exchanged'],
    [{ from_m: 0, to_m: 60, step_m: 0.001 }, 'too_many_planned'],
    [{ from_m: 0, to_m: 200_000, step_m: 100 }, 'chainage_too_far'],
  ])('are refused with what to do: %o', (layout, code) => {
    expect(setLayout(survey, line.id, layout, author)).toMatchObject({ ok: false, code });
    expect(startLine(survey, { name: 'C', layout }, 's', author)).toMatchObject({ ok: false, code });
  });
});

describe('a new line', () => {
  it('may begin without a point, its wiring not said yet', () => {
    const after = edited(startLine(survey, { name: ' C ', layout: { from_m: 0, to_m: 60, step_m: 2 } }, 's', author));
    expect(after.lines[3]).toMatchObject({ name: 'C', path: [], revised: { by: 'Ada', count: 0 } });
    expect(after.lines[3]?.hookup).toBeUndefined();
  });

  it('needs a name that no other line has', () => {
    for (const [name, code] of [
      ['A', 'name_taken'],
      ['  ', 'no_name'],
    ] as const) {
      expect(startLine(survey, { name, layout: null }, 's', author)).toMatchObject({ ok: false, code });
    }
    expect(startLine(survey, { name: 'gone', layout: null }, 's', author).ok).toBe(true);
  });

  it('may come with all its points, those between the ends as bends', () => {
    const fixes = [0, 31.5, 60].map((chainage, i) => ({ chainage_m: chainage, position: place(10 + i / 1000, 47) }));
    const layout = { from_m: 0, to_m: 60, step_m: 1 };
    const after = edited(addDrawnLine(survey, { name: 'C', layout, fixes }, 's', author));
    const drawn = after.lines[3] as Line;
    expect(drawn.layout).toEqual(layout);
    expect(drawn.path.map((item) => item.kind === 'fix' && [item.chainage_m, item.corner ?? null])).toEqual([
      [0, null],
      [31.5, true],
      [60, null],
    ]);
    expect(new Set(drawn.path.map(({ id }) => id)).size).toBe(3);
  });

  it('is not drawn with one point, nor with chainages that go back', () => {
    const fixes = [0, 40, 30].map((chainage, i) => ({ chainage_m: chainage, position: place(10 + i / 1000, 47) }));
    const drawn = (some: typeof fixes) => addDrawnLine(survey, { name: 'C', layout: null, fixes: some }, 's', author);
    expect(drawn(fixes)).toMatchObject({ ok: false, code: 'chainage_backwards' });
    expect(drawn(fixes.slice(0, 1))).toMatchObject({ ok: false, code: 'too_few_points' });
  });
});
