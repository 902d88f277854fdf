import type { MarkKey } from './mark-key';

/** What a mark says. A two-probe grade is a hint: a place to look at again. */
const WORDS: Readonly<Record<MarkKey, string>> = {
  strong_above: 'strongly above the reference',
  clear_above: 'clearly above the reference',
  slight_above: 'slightly above the reference',
  none: 'like the reference',
  slight_below: 'slightly below the reference',
  clear_below: 'clearly below the reference',
  strong_below: 'strongly below the reference',
  over_range: 'over range',
  not_graded: 'not graded',
};

export function markWords(key: MarkKey, hint: boolean): string {
  const graded = key.endsWith('_above') || key.endsWith('_below');
  return hint && graded ? `a hint, ${WORDS[key]}` : WORDS[key];
}

/** A line by its name within a sentence: "line A", but "Line 3 east" stays as it is. */
export function lineName(name: string): string {
  return /^line\b/i.test(name) ? name : `line ${name}`;
}
