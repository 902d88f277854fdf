import type { Hookup } from '../../survey/hookup';

/** The hookup asked as somebody knows it who has stood there: how many rods, and where the other leads went. */
export type RodCount = 2 | 3 | 4 | 'unknown';

export interface HookupAnswer {
  readonly hookup: Hookup;
  readonly words: string;
}

export const ROD_WORDS: readonly { readonly rods: RodCount; readonly words: string }[] = [
  { rods: 2, words: 'two' },
  { rods: 3, words: 'three' },
  { rods: 4, words: 'four' },
  { rods: 'unknown', words: 'I don’t know' },
];

/** The second question for each answer to the first. */
export const LEADS_QUESTION: Record<Exclude<RodCount, 'unknown'>, string> = {
  2: 'Where do the other leads go?',
  3: 'Where does the fourth lead go?',
  4: 'How do the four stand?',
};

export const LEADS: Record<Exclude<RodCount, 'unknown'>, readonly HookupAnswer[]> = {
  2: [
    { hookup: 'two_probe', words: 'to the same two rods' },
    { hookup: 'pole_pole', words: 'to two more rods, left far away' },
  ],
  3: [{ hookup: 'pole_dipole', words: 'to a rod left far away; current at one end, the potential pair beyond' }],
  4: [
    { hookup: 'wenner_alpha', words: 'evenly, current on the outer two' },
    { hookup: 'schlumberger', words: 'current far out, the potential pair close together in the middle' },
    { hookup: 'dipole_dipole', words: 'the current pair together, the potential pair together, apart from each other' },
    { hookup: 'wenner_beta', words: 'evenly, the current pair on one side' },
    { hookup: 'wenner_gamma', words: 'evenly, current and potential by turns' },
    { hookup: 'four_electrode', words: 'in another way; the table gives each one' },
  ],
};

/** What is said of a hookup that nobody knows. */
export const UNKNOWN_HOOKUP =
  'the readings are treated as two-probe: compared with each other, but no resistivity, no depth, and no size of void.';

/** How many rods an answer that was given before belongs to. */
export function rodsOf(hookup: string | undefined): RodCount | null {
  if (hookup === undefined) return null;
  if (hookup === 'unknown') return 'unknown';
  return ([2, 3, 4] as const).find((rods) => LEADS[rods].some((answer) => answer.hookup === hookup)) ?? null;
}
