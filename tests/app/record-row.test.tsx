import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { GridRow } from '../../src/app/screens/record/GridRow';
import { NARROW_COLUMNS, RECORD_COLUMNS, recordRows } from '../../src/app/state/record-rows';
import type { DoubtCode } from '../../src/survey/doubt';
import { DOUBT_WORDS } from '../../src/survey/doubt-words';
import { demoContent } from './demo-content';

const rows = recordRows(demoContent());
const doubted = rows.find(({ doubts, figure }) => doubts.length > 0 && figure);
if (!doubted) throw new Error('the demo has a doubted reading');

const drawn = (narrow: boolean, cursor: 'value' | null = null) =>
  renderToStaticMarkup(
    <GridRow
      row={doubted}
      index={41}
      heightPx={36}
      columns={narrow ? NARROW_COLUMNS : RECORD_COLUMNS}
      theme="light"
      narrow={narrow}
      selected
      cursor={cursor}
      editing={null}
      onEdited={() => undefined}
    />,
  );

describe('a row of the grid', () => {
  it('says which of all rows it is, counting the head, and that it is the chosen one', () => {
    expect(drawn(false)).toContain('aria-rowindex="43"');
    expect(drawn(false)).toContain('aria-selected="true"');
  });

  it('has one cell for the keyboard, where the cursor is', () => {
    expect(drawn(false).match(/tabindex="0"/g)).toBeNull();
    const cell = /<div role="gridcell"[^>]*tabindex="0"[^>]*>/.exec(drawn(false, 'value'))?.[0];
    expect(cell).toContain('data-column="value"');
    expect(drawn(false, 'value').match(/tabindex="0"/g)).toHaveLength(1);
  });

  it('says what cannot be typed over', () => {
    const readOnly = [...drawn(false).matchAll(/aria-readonly="true"[^>]*data-column="(\w+)"/g)].map(
      ([, name]) => name,
    );
    expect(readOnly).toEqual(expect.arrayContaining(['line', 'figure', 'ratio', 'grade', 'doubts']));
    expect(readOnly).not.toContain('value');
  });

  it('tells grade and doubts in words as well, also on a small screen', () => {
    for (const narrow of [true, false]) {
      expect(drawn(narrow)).toContain(DOUBT_WORDS[doubted.doubts[0]?.code as DoubtCode].toLowerCase());
      expect(drawn(narrow)).toMatch(/<span class="unseen">[^<]*(reference|graded|range)/);
    }
  });
});
