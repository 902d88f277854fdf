import { describe, expect, it } from 'vitest';
import { lanes } from '../../src/map/lanes';

describe('lanes', () => {
  it('lie evenly about the line, the narrowest spacing on its left', () => {
    const items = [
      { line: 'A', spacingM: 5 },
      { line: 'A', spacingM: 1 },
      { line: 'A', spacingM: 2 },
      { line: 'A', spacingM: 1 },
      { line: 'B', spacingM: 5 },
    ];
    expect(lanes(items)).toEqual([1, -1, 0, -1, 0]);
  });

  it('put readings that do not say their spacing rightmost', () => {
    expect(
      lanes([
        { line: 'A', spacingM: null },
        { line: 'A', spacingM: 12 },
      ]),
    ).toEqual([0.5, -0.5]);
  });
});
