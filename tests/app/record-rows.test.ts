import { describe, expect, it } from 'vitest';
import type { Content } from '../../src/app/state/app-state';
import { INITIAL_STATE } from '../../src/app/state/app-state';
import { filterOf, NO_FILTER, RECORD_COLUMNS, recordRows, sortValue } from '../../src/app/state/record-rows';
import { reduce } from '../../src/app/state/reduce';
import { arranged } from '../../src/app/state/table-view';
import { cellWords } from '../../src/app/words/cell-words';
import { commit } from '../../src/survey/commit';
import { rejectReading, retireReading, settleDoubt } from '../../src/survey/edits';
import { contentOf } from './content-of';
import { demoContent } from './demo-content';

const content = demoContent();
const rows = recordRows(content);
const author = { by: 'Ada', at: '2026-05-12T10:00:00Z' };

describe('the rows of the record', () => {
  it('are one a reading, each with its line, and made once for the same findings', () => {
    expect(rows).toHaveLength(content.survey.readings.length);
    expect(recordRows(content)).toBe(rows);
    expect(rows.every(({ entry, reading }) => entry?.finding.readings.includes(reading.id))).toBe(true);
  });

  it('leave out what was taken out', () => {
    const change = retireReading(content.survey, rows[7]?.reading.id ?? never(), author);
    if (!change.ok) throw new Error(change.sentence);
    const { survey } = commit(content.survey, change.value);
    expect(recordRows({ ...content, survey })).toHaveLength(rows.length - 1);
  });

  it('carry the doubts to look at, and none that is only worth knowing or was settled', () => {
    const doubted = rows.filter(({ doubts }) => doubts.length > 0);
    expect(doubted.length).toBeGreaterThan(20);
    expect(doubted.length).toBeLessThan(rows.length / 2);
    const doubt = doubted[0]?.doubts[0] ?? never();
    const change = settleDoubt(content.survey, doubt.id, 'explained', 'dry soil', author);
    if (!change.ok) throw new Error(change.sentence);
    const after = recordRows({ ...content, survey: commit(content.survey, change.value).survey });
    for (const [i, row] of after.entries()) {
      expect(row.doubts.some(({ id }) => id === doubt.id)).toBe(false);
      expect(row.settled).toBe(rows[i]?.doubts.some(({ id }) => id === doubt.id) ? 1 : 0);
    }
  });

  it('have no figure for a rejected reading, whose place keeps that of its repeats', () => {
    const target = rows.find(({ entry }) => entry && entry.finding.readingCount > 1) ?? never();
    const change = rejectReading(content.survey, target.reading.id, 'lead off', author);
    if (!change.ok) throw new Error(change.sentence);
    const after = contentOf(commit(content.survey, change.value).survey);
    const row = recordRows(after).find(({ reading }) => reading.id === target.reading.id) ?? never();
    expect([row.figure, cellWords(row, 'figure'), cellWords(row, 'status')]).toEqual([null, '–', 'rejected']);
    expect(row.entry?.finding.figureOhmM).not.toBeNull();
    expect(row.entry?.finding.figureOhmM).not.toBe(target.entry?.finding.figureOhmM);
  });

  it('say in every column what there is', () => {
    for (const row of rows.slice(0, 200)) {
      for (const column of RECORD_COLUMNS) expect(cellWords(row, column)).not.toMatch(/null|undefined|NaN/);
    }
    const over = rows.find(({ reading }) => reading.status === 'over_range') ?? never();
    expect(cellWords(over, 'value')).toBe('> 19990');
  });
});

describe('the filter', () => {
  const kept = (filter: Partial<Parameters<typeof filterOf>[0]>, of: Content = content) =>
    recordRows(of).filter(filterOf({ ...NO_FILTER, ...filter }));

  it('keeps everything unless asked', () => {
    expect(kept({})).toHaveLength(rows.length);
  });

  it('keeps a line, a spacing, and both', () => {
    const line = content.survey.lines.find(({ name }) => name === 'C') ?? never();
    expect(new Set(kept({ line: line.id }).map((row) => row.line.name))).toEqual(new Set(['C']));
    expect(new Set(kept({ spacing: 5 }).map(({ spacingM }) => spacingM))).toEqual(new Set([5]));
    const both = kept({ line: line.id, spacing: 5 });
    expect(both.length).toBeGreaterThan(0);
    expect(both.every(({ spacingM, line: { name } }) => spacingM === 5 && name === 'C')).toBe(true);
  });

  it('keeps the doubted and the rejected', () => {
    expect(kept({ only: 'doubted' }).every(({ doubts }) => doubts.length > 0)).toBe(true);
    expect(kept({ only: 'rejected' }).every(({ reading }) => reading.status === 'rejected')).toBe(true);
    expect(kept({ only: 'doubted' }).length).toBeGreaterThan(0);
  });

  it('keeps rows that have every word of the text in them, in any case and order', () => {
    const found = kept({ text: 'CONTACT two probe' });
    expect(found.length).toBeGreaterThan(0);
    expect(found.every(({ hookup }) => hookup === 'two_probe')).toBe(true);
    expect(kept({ text: 'no such thing at all' })).toEqual([]);
  });
});

describe('sorting the record', () => {
  it('goes by what values are in ohm-metres, over range above them all', () => {
    const order = arranged(rows, () => true, { column: 'value', descending: true }, sortValue);
    const first = rows[order[0] ?? 0];
    expect(first?.reading.status).toBe('over_range');
  });

  it('goes from strongly above to strongly below by grade', () => {
    const order = arranged(rows, () => true, { column: 'grade', descending: true }, sortValue);
    const ranks = order.map((i) => sortValue(rows[i] ?? never(), 'grade')).filter((rank) => rank !== null);
    expect(ranks[0]).toBeGreaterThan(0);
    expect(ranks).toEqual([...ranks].sort((a, b) => Number(b) - Number(a)));
    expect(ranks.at(-1)).toBeLessThan(0);
  });
});

describe('choosing on the map', () => {
  it('stays in the record for a reading, and turns to Read for an electrode', () => {
    const open = reduce(INITIAL_STATE, { type: 'margin', margin: 'record' });
    const choose = (kind: 'midpoint' | 'electrode') => reduce(open, { type: 'select', selection: { kind, sid: 'x' } });
    expect(choose('midpoint').margin).toBe('record');
    expect(choose('electrode').margin).toBe('read');
  });
});

function never(): never {
  throw new Error('the demo has one');
}
