import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Change, COLLECTIONS, commit } from '../../src/survey/commit';
import {
  type Author,
  addReading,
  correctReading,
  rejectReading,
  retireReading,
  settleDoubt,
} from '../../src/survey/edits';
import { makeId } from '../../src/survey/ids';
import { contentText } from '../../src/survey/merge-content';
import { type MergedSurveys, type MergeOptions, mergeSurveys } from '../../src/survey/merge-surveys';
import type { Outcome } from '../../src/survey/outcome';
import type { Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading } from '../helpers/made-survey';

const ANNA: Author = { by: 'Anna', at: '2026-05-01T10:00:00Z' };
const BERT: Author = { by: 'Bert', at: '2026-05-02T10:00:00Z' };

const FIXES = [
  { chainageM: 0, lon: -91.9, lat: 37.4 },
  { chainageM: 50, lon: -91.899, lat: 37.4 },
];

/** Two lines of six readings; ids of its own for each maker, so that two makers name the same things differently. */
function madeCopy(maker = 'one'): Survey {
  const lines = ['L1', 'L2'].map((name) => ({ ...madeLine(name, FIXES), id: makeId('line', maker, name) }));
  const outing = { ...madeOuting('First day', { date: '2026-05-01' }), id: makeId('outing', maker, 'first') };
  const readings = lines.flatMap((line) =>
    [0, 1, 2, 3, 4, 5].map((i) => ({
      ...madeReading(line, { midpoint_m: 5 * i, spacing_m: 2, value: 100 + i, hookup: 'two_probe', outing: outing.id }),
      id: makeId('reading', maker, `${line.name}/${i}`),
    })),
  );
  const reference = {
    id: makeId('reference', maker, 'quiet'),
    revised: { at: null, by: null, count: 0 },
    name: 'Quiet ground',
    stations: lines.map(({ id }) => ({ line: id, chainage_m: 0 })),
  };
  const empty = emptySurvey(`by ${maker}`);
  const site = { ...empty.site, name: 'The field' };
  return { ...empty, site, lines, outings: [outing], readings, references: [reference] };
}

function edited(survey: Survey, ...edits: ((survey: Survey) => Outcome<Change>)[]): Survey {
  return edits.reduce((now, edit) => {
    const change = edit(now);
    if (!change.ok) throw new Error(change.sentence);
    return commit(now, change.value).survey;
  }, survey);
}

function merged(mine: Survey, theirs: Survey, options?: MergeOptions): MergedSurveys {
  const outcome = mergeSurveys(mine, theirs, options);
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

const readingAt = (survey: Survey, i: number): Reading => survey.readings[i] as Reading;
const correct = (i: number, value: number, by: Author) => (survey: Survey) =>
  correctReading(survey, readingAt(survey, i).id, { value }, by);
const add = (midpoint: number, value: number, seed: string, by: Author) => (survey: Survey) => {
  const line = survey.lines[0];
  if (!line) throw new Error('no line');
  return addReading(
    survey,
    { line: line.id, midpoint_m: midpoint, spacing_m: 4, value, unit: 'ohm_m', hookup: 'two_probe', time: by.at },
    seed,
    by,
  );
};

/** All that a survey says, whatever the order in which it stands. */
const saidBy = (survey: Survey): unknown =>
  Object.fromEntries(COLLECTIONS.map((name) => [name, survey[name].map((each) => JSON.stringify(each)).sort()]));

describe('a colleague’s part', () => {
  it('that says the same brings nothing', () => {
    const mine = madeCopy();
    const { survey, taken, same, conflicts, change } = merged(mine, structuredClone(mine));
    expect(survey).toEqual(mine);
    expect([taken.length, same, conflicts.length]).toEqual([0, 17, 0]);
    expect(change.put).toEqual({});
  });

  it('brings the readings that it has added, beside those that I have added', () => {
    const base = madeCopy();
    const mine = edited(base, add(30, 7, 'anna', ANNA));
    const theirs = edited(base, add(35, 8, 'bert', BERT), add(40, 9, 'bert again', BERT));
    const { survey, taken, conflicts } = merged(mine, theirs);
    expect(survey.readings.slice(12).map(({ value }) => value)).toEqual([7, 8, 9]);
    expect(taken.map(({ collection, how }) => `${how} ${collection}`)).toEqual(['new readings', 'new readings']);
    expect(conflicts).toEqual([]);
  });

  it('is newer where only they changed it, and older where only I did', () => {
    const base = madeCopy();
    const mine = edited(base, correct(0, 111, ANNA));
    const theirs = edited(base, correct(1, 222, BERT), (now) => retireReading(now, readingAt(now, 2).id, BERT));
    const { survey, taken, conflicts } = merged(mine, theirs);
    expect(survey.readings.slice(0, 3).map(({ value }) => value)).toEqual([111, 222, 102]);
    expect(readingAt(survey, 2).retired).toBe(true);
    expect(taken.map(({ how }) => how)).toEqual(['newer', 'newer']);
    expect(conflicts).toEqual([]);
  });

  it('is asked where both changed it, and stays as I have it until it is answered', () => {
    const base = madeCopy();
    const [mine, theirs] = [edited(base, correct(0, 111, ANNA)), edited(base, correct(0, 222, BERT))];
    const { survey, conflicts } = merged(mine, theirs);
    expect(survey).toEqual(mine);
    expect(conflicts).toMatchObject([
      { differs: ['value'], mine: { value: 111 }, theirs: { value: 222 }, choice: null },
    ]);
    const [asked] = conflicts;
    const answer = (choice: 'mine' | 'theirs' | 'both') =>
      merged(mine, theirs, { choices: { [asked?.id ?? '']: choice }, author: ANNA }).survey;
    expect(answer('mine').readings.map(({ value }) => value)).toEqual(mine.readings.map(({ value }) => value));
    expect(readingAt(answer('theirs'), 0).value).toBe(222);
    const both = answer('both').readings;
    expect(both.map(({ value }) => value)).toEqual([...mine.readings.map(({ value }) => value), 222]);
    expect(new Set(both.map(({ id }) => id)).size).toBe(13);
  });

  it('that was answered is not asked again, here or there', () => {
    const base = madeCopy();
    const [mine, theirs] = [edited(base, correct(0, 111, ANNA)), edited(base, correct(0, 222, BERT))];
    const [asked] = merged(mine, theirs).conflicts;
    for (const choice of ['mine', 'theirs', 'both'] as const) {
      const { survey } = merged(mine, theirs, { choices: { [asked?.id ?? '']: choice }, author: ANNA });
      const again = merged(survey, theirs);
      expect(again.conflicts).toEqual([]);
      expect(again.survey).toEqual(survey);
      const there = merged(theirs, survey);
      expect(there.conflicts).toEqual([]);
      expect(saidBy(there.survey)).toEqual(saidBy(survey));
    }
  });

  it('begun apart from mine is refused until it is said to be the same ground, and then known by its names', () => {
    const [mine, theirs] = [madeCopy('one'), madeCopy('two')];
    const grown = edited(theirs, add(30, 7, 'bert', BERT), (now) =>
      settleDoubt(now, `over_range:${now.lines[0]?.id}:5000:2000`, 'accepted', 'wet ground', BERT),
    );
    expect(mergeSurveys(mine, grown)).toMatchObject({ ok: false, code: 'other_site' });
    const { survey, taken, conflicts } = merged(mine, grown, { sameSite: true });
    expect(conflicts).toEqual([]);
    expect(taken.map(({ collection, how }) => `${how} ${collection}`)).toEqual(['new readings', 'new settlements']);
    expect(survey.readings.at(-1)).toMatchObject({ line: mine.lines[0]?.id, value: 7 });
    expect(survey.settlements[0]?.doubt).toBe(`over_range:${mine.lines[0]?.id}:5000:2000`);
    expect(survey.references).toEqual(mine.references);
  });

  it('with another line of the same name can be kept as a line of its own, with its readings', () => {
    const mine = madeCopy('one');
    const other = madeCopy('two');
    const theirs = {
      ...other,
      references: [],
      lines: other.lines.map((line, i) => (i === 0 ? { ...line, hookup: 'pole_pole' as const, path: [] } : line)),
    };
    const { conflicts } = merged(mine, theirs, { sameSite: true });
    expect(conflicts.map(({ collection, mayKeepBoth }) => [collection, mayKeepBoth])).toEqual([['lines', true]]);
    const options = { sameSite: true, choices: { [conflicts[0]?.id ?? '']: 'both' as const }, author: ANNA };
    const { survey } = merged(mine, theirs, options);
    expect(survey.lines.map(({ name }) => name)).toEqual(['L1', 'L2', 'L1 (2)']);
    expect(survey.readings.filter(({ line }) => line === survey.lines[2]?.id)).toHaveLength(6);
    expect(merged(survey, theirs, { sameSite: true })).toMatchObject({ conflicts: [], taken: [] });
  });

  it('joins the points of one line that both measured in', () => {
    const base = madeCopy();
    const point = (key: string, chainage: number) => ({
      ...base.lines[0]?.path[0],
      id: makeId('path', key, ''),
      chainage_m: chainage,
    });
    const withPoint = (key: string, chainage: number) =>
      ({
        ...base,
        lines: base.lines.map((line, i) =>
          i === 0
            ? { ...line, path: [...line.path, point(key, chainage)], revised: { ...line.revised, count: 1 } }
            : line,
        ),
      }) as Survey;
    const [mine, theirs] = [withPoint('anna', 20), withPoint('bert', 30)];
    const [asked] = merged(mine, theirs).conflicts;
    const { survey } = merged(mine, theirs, { choices: { [asked?.id ?? '']: 'both' }, author: ANNA });
    expect(survey.lines[0]?.path.map((item) => 'chainage_m' in item && item.chainage_m)).toEqual([0, 50, 20, 30]);
    expect(merged(theirs, survey)).toMatchObject({ conflicts: [] });
  });

  it('brings keys that this version does not know, and the grids that its places are told in', () => {
    const base = madeCopy();
    const grid = { name: 'farm', unit: 'm' as const, origin_lon: -91.9, origin_lat: 37.4, bearing_deg: 10 };
    const theirs = {
      ...base,
      site: { ...base.site, local_grids: [grid] },
      readings: [
        ...base.readings,
        { ...readingAt(base, 0), id: makeId('reading', 'x', 'y'), midpoint_m: 99, felt: 'odd' },
      ],
    } as Survey;
    const { survey } = merged(
      { ...base, site: { ...base.site, name: 'Mine', revised: { ...base.site.revised, count: 1 } } },
      theirs,
    );
    expect(survey.site).toMatchObject({ name: 'Mine', local_grids: [grid] });
    expect(survey.readings.at(-1)).toMatchObject({ felt: 'odd' });
  });

  it('is one edit, and taking it back leaves all as it was', () => {
    const base = madeCopy();
    const mine = edited(base, correct(0, 111, ANNA));
    const { change, survey } = merged(mine, edited(base, correct(1, 222, BERT), add(30, 7, 'bert', BERT)));
    const made = commit(mine, change);
    expect(made.survey).toEqual(survey);
    expect(commit(made.survey, made.undo).survey).toEqual(mine);
  });
});

describe('two copies after any edits', () => {
  const step = fc.oneof(
    fc.record({ kind: fc.constant('correct' as const), at: fc.nat(11), value: fc.integer({ min: 1, max: 4 }) }),
    fc.record({ kind: fc.constant('reject' as const), at: fc.nat(11), value: fc.constant(0) }),
    fc.record({ kind: fc.constant('retire' as const), at: fc.nat(11), value: fc.constant(0) }),
    fc.record({ kind: fc.constant('add' as const), at: fc.nat(3), value: fc.integer({ min: 1, max: 4 }) }),
  );
  const grown = (base: Survey, steps: readonly { kind: string; at: number; value: number }[], by: Author): Survey =>
    steps.reduce((now, { kind, at, value }, i) => {
      const { id } = readingAt(now, at);
      const change =
        kind === 'correct'
          ? correctReading(now, id, { value }, by)
          : kind === 'reject'
            ? rejectReading(now, id, 'odd', by)
            : kind === 'retire'
              ? retireReading(now, id, by)
              : add(30 + at, value, `${by.by} ${i}`, by)(now);
      return change.ok ? commit(now, change.value).survey : now;
    }, base);
  const copies = fc
    .tuple(fc.array(step, { maxLength: 8 }), fc.array(step, { maxLength: 8 }), fc.boolean())
    .map(([first, second, apart]) => {
      const [one, two] = [madeCopy('one'), madeCopy(apart ? 'two' : 'one')];
      return [grown(one, first, ANNA), grown(two, second, BERT), apart] as const;
    });
  const choice = fc.constantFrom('mine' as const, 'theirs' as const, 'both' as const);

  it('joined twice are as joined once', () => {
    fc.assert(
      fc.property(copies, choice, ([mine, theirs, sameSite], chosen) => {
        const first = merged(mine, theirs, { sameSite });
        expect(merged(first.survey, theirs, { sameSite }).survey).toEqual(first.survey);
        const choices = Object.fromEntries(first.conflicts.map(({ id }) => [id, chosen]));
        const answered = merged(mine, theirs, { sameSite, choices, author: ANNA }).survey;
        const again = merged(answered, theirs, { sameSite });
        expect(again.conflicts).toEqual([]);
        expect(again.survey).toEqual(answered);
      }),
      { numRuns: 150 },
    );
  });

  it('give the same whoever joins them, but for whose ids are kept', () => {
    fc.assert(
      fc.property(copies, ([mine, theirs, sameSite]) => {
        const [here, there] = [merged(mine, theirs, { sameSite }), merged(theirs, mine, { sameSite })];
        const values = (conflicts: MergedSurveys['conflicts'], side: 'mine' | 'theirs') =>
          conflicts.map((conflict) => (conflict[side] as Reading).value).sort();
        expect(values(here.conflicts, 'mine')).toEqual(values(there.conflicts, 'theirs'));
        expect(values(here.conflicts, 'theirs')).toEqual(values(there.conflicts, 'mine'));
        const asked = new Set<string>([...here.conflicts, ...there.conflicts].map(({ mine: { id } }) => id));
        const said = ({ survey }: MergedSurveys) =>
          survey.readings
            .filter(({ id }) => !asked.has(id))
            .map((reading) => contentText({ ...reading, line: '', outing: '' }))
            .sort();
        expect(said(here)).toEqual(said(there));
        if (!sameSite) {
          expect(saidBy({ ...here.survey, readings: here.survey.readings.filter(({ id }) => !asked.has(id)) })).toEqual(
            saidBy({ ...there.survey, readings: there.survey.readings.filter(({ id }) => !asked.has(id)) }),
          );
        }
      }),
      { numRuns: 150 },
    );
  });

  it('lose nothing: every reading of both stands in the result, was asked about, or was changed by its only changer', () => {
    fc.assert(
      fc.property(copies, ([mine, theirs, sameSite]) => {
        const { survey, conflicts, taken } = merged(mine, theirs, { sameSite });
        const bare = (reading: Reading) => contentText({ ...reading, line: '', outing: '' });
        const there = new Set([
          ...survey.readings.map(bare),
          ...conflicts.flatMap((conflict) => [bare(conflict.mine as Reading), bare(conflict.theirs as Reading)]),
        ]);
        const byId = new Map(survey.readings.map((reading) => [reading.id, reading]));
        const newer = new Set(taken.filter(({ how }) => how !== 'new').map(({ id }) => id));
        for (const reading of mine.readings) {
          const gone = !there.has(bare(reading));
          // Untouched by me, and later in theirs.
          if (gone) expect(newer.has(reading.id) && reading.revised.count === 0).toBe(true);
          expect(byId.has(reading.id)).toBe(true);
        }
        for (const reading of theirs.readings) {
          if (there.has(bare(reading))) continue;
          expect(reading.revised.count).toBe(0);
          expect(byId.get(reading.id)?.revised.count).toBeGreaterThan(0);
        }
      }),
      { numRuns: 150 },
    );
  });
});
