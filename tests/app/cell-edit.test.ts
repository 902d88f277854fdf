import { describe, expect, it } from 'vitest';
import { cellCorrection, cellEditing } from '../../src/app/state/cell-edit';
import { type RecordRow, recordRows } from '../../src/app/state/record-rows';
import { typedNumber, typedValue } from '../../src/app/state/typed-value';
import type { Reading } from '../../src/survey/survey';
import { demoContent } from './demo-content';

const [first] = recordRows(demoContent());
if (!first) throw new Error('the demo has readings');
const row = (said: Partial<Reading>): RecordRow => ({ ...first, reading: { ...first.reading, ...said } });
const plain = row({ midpoint_m: 4, spacing_m: 2, value: 344, unit: 'ohm_m', status: 'ok', limit: null });

describe('a number typed', () => {
  it('may have a point or a comma, thousands in groups, and a sign', () => {
    const typed = ['12.5', '12,5', ' 0,75 ', '1 234.5', '1.234,5', '1,234.5', '−3'].map((text) => typedNumber(text));
    expect(typed.map((outcome) => outcome.ok && outcome.value)).toEqual([12.5, 12.5, 0.75, 1234.5, 1234.5, 1234.5, -3]);
  });

  it('is refused where it may be two numbers, and where it is none', () => {
    expect(typedNumber('1,234')).toMatchObject({
      code: 'ambiguous_number',
      sentence: expect.stringContaining('1.234'),
    });
    for (const text of ['', 'abc', '1..2', 'NaN', '12 m'])
      expect(typedNumber(text)).toMatchObject({ code: 'not_a_number' });
  });
});

describe('a value typed', () => {
  it('may be over range, with or without the limit', () => {
    for (const text of ['over', 'OL', 'O.L.', 'over range']) {
      expect(typedValue(text)).toEqual({ ok: true, value: { value: null, status: 'over_range', limit: null } });
    }
    expect(typedValue('> 19,99')).toEqual({ ok: true, value: { value: null, status: 'over_range', limit: 19.99 } });
    expect(typedValue('>x').ok).toBe(false);
  });
});

describe('a cell', () => {
  it('asks for no edit when it says what is there', () => {
    for (const column of ['chainage', 'spacing', 'value', 'unit', 'hookup', 'wetting'] as const) {
      const before = cellEditing(plain, column);
      const text = before?.kind === 'text' ? before.text : (before?.value ?? '');
      expect(cellCorrection(plain, column, ` ${text} `)).toEqual({ ok: true, value: null });
    }
  });

  it('corrects what it shows', () => {
    const correction = (column: Parameters<typeof cellCorrection>[1], text: string, of = plain) => {
      const outcome = cellCorrection(of, column, text);
      return outcome.ok ? outcome.value : outcome.code;
    };
    expect(correction('value', '401,5')).toEqual({ value: 401.5, status: 'ok' });
    expect(correction('value', '>19990')).toEqual({ value: null, status: 'over_range', limit: 19990 });
    expect(correction('chainage', '6,5')).toEqual({ midpoint_m: 6.5 });
    expect(correction('spacing', '3')).toEqual({ spacing_m: 3 });
    expect(correction('unit', 'kohm_m')).toEqual({ unit: 'kohm_m' });
    expect(correction('wetting', 'water')).toEqual({ wetting: 'water' });
    expect(correction('spacing', 'wide')).toBe('not_a_number');
    expect(correction('ratio', '1')).toBe('not_editable');
  });

  it('of a rejected reading keeps it rejected; of one over range makes it count', () => {
    const rejected = cellCorrection(row({ value: 344, status: 'rejected' }), 'value', '350');
    expect(rejected).toEqual({ ok: true, value: { value: 350 } });
    const over = cellCorrection(row({ value: null, status: 'over_range', limit: 19990 }), 'value', '350');
    expect(over).toEqual({ ok: true, value: { value: 350, status: 'ok' } });
  });

  it('is closed where the electrodes or a place of its own say where the reading was', () => {
    const electrodes = { a_m: 0, b_m: 9, m_m: 3, n_m: 6 };
    expect(cellEditing(row({ electrodes }), 'chainage')).toBeNull();
    expect(cellEditing(row({ electrodes }), 'spacing')).toBeNull();
    const position = { x: -91.9, y: 37.4, crs: 'EPSG:4326' };
    expect(cellEditing(row({ position }), 'chainage')).toBeNull();
    expect(cellEditing(row({ position }), 'value')).not.toBeNull();
  });
});
