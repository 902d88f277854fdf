import { describe, expect, it } from 'vitest';
import { doubtGroups } from '../../src/app/state/doubt-groups';
import type { Doubt, DoubtCode, DoubtSeverity } from '../../src/survey/doubt';
import { DOUBT_WORDS } from '../../src/survey/doubt-words';
import { demoContent } from './demo-content';

const made = (id: string, code: DoubtCode, severity: DoubtSeverity): Doubt => ({
  id,
  code,
  severity,
  line: null,
  chainageM: null,
  spacingM: null,
  sentence: id,
  remedy: '',
  readings: [],
});
const told = (groups: ReturnType<typeof doubtGroups>) =>
  groups.map(({ code, doubts }) => [code, doubts.map(({ id }) => id).join(' ')]);

describe('doubts by kind', () => {
  const doubts = [
    made('a', 'single_reading', 'note'),
    made('b', 'contact_suspected', 'note'),
    made('c', 'repeats_disagree', 'warning'),
    made('d', 'contact_suspected', 'warning'),
    made('e', 'unit_suspected', 'serious'),
  ];

  it('come with the gravest kind first, and the gravest first in each', () => {
    expect(told(doubtGroups(doubts, new Map()))).toEqual([
      ['unit_suspected', 'e'],
      ['repeats_disagree', 'c'],
      ['contact_suspected', 'd b'],
      ['single_reading', 'a'],
    ]);
  });

  it('have what was settled last, and count it', () => {
    const groups = doubtGroups(
      doubts,
      new Map([
        ['e', true],
        ['d', true],
      ]),
    );
    expect(told(groups)).toEqual([
      ['repeats_disagree', 'c'],
      ['single_reading', 'a'],
      ['contact_suspected', 'b d'],
      ['unit_suspected', 'e'],
    ]);
    expect(groups.map(({ severity, settled }) => [severity, settled])).toEqual([
      ['warning', 0],
      ['note', 0],
      ['note', 1],
      [null, 1],
    ]);
  });

  it('leave none of the demo out, and every kind has a name of its own', () => {
    const { findings } = demoContent();
    const groups = doubtGroups(findings.doubts, new Map());
    expect(groups.flatMap((group) => group.doubts)).toHaveLength(findings.doubts.length);
    expect(new Set(groups.map(({ code }) => code)).size).toBe(groups.length);
    expect(new Set(Object.values(DOUBT_WORDS)).size).toBe(Object.keys(DOUBT_WORDS).length);
  });
});
