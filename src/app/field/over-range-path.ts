import type { Outing, Wetting } from '../../survey/survey';

/** A step of the path for a reading over range: what to do at the rods, and how the next attempt is written down. */
export interface OverRangeStep {
  readonly name: 'leads' | 'deeper' | 'water' | 'salt_water';
  readonly title: string;
  readonly doThis: string;
  /** Whether the reference has to be treated in the same way. */
  readonly alike: boolean;
  /** What the note of the next reading says was done. */
  readonly note: string;
  readonly wetting: Wetting | null;
  readonly reDrivesAll: boolean;
}

/** Said at the head of every step: nobody touches a rod or a lead while the meter is on. */
export const BEFORE_EVERY_TOUCH = 'Meter off, leads out.';

export const REFERENCE_ALIKE =
  'Treat the reference in the same way before you compare: its rods as deep and as wet, read on the same day.';

const LEADS: OverRangeStep = {
  name: 'leads',
  title: 'Leads and jumpers',
  doThis: 'Look at every lead, clip and jumper: a broken lead reads like dry ground. Leads in, meter on, read again.',
  alike: false,
  note: 'leads and jumpers checked',
  wetting: null,
  reDrivesAll: false,
};
const DEEPER: OverRangeStep = {
  name: 'deeper',
  title: 'Rods deeper',
  doThis: 'Drive every rod deeper, and firm. Say how deep. Leads in, meter on, read again.',
  alike: true,
  note: 'rods driven deeper',
  wetting: null,
  reDrivesAll: true,
};
const WATER: OverRangeStep = {
  name: 'water',
  title: 'Plain water',
  doThis: 'Pour plain water round every rod and let it soak in. Leads in, meter on, read again.',
  alike: true,
  note: 'rods wetted with plain water',
  wetting: 'water',
  reDrivesAll: false,
};
const SALT_WATER: OverRangeStep = {
  name: 'salt_water',
  title: 'Salt water',
  doThis:
    'It was said that salt water is allowed here. It harms plants and groundwater: as little as will do, at the rods only. Leads in, meter on, read again.',
  alike: true,
  note: 'rods wetted with salt water',
  wetting: 'salt_water',
  reDrivesAll: false,
};

/** The steps of a day, the gentlest first. What every reading of the day has already is not asked for again. */
export function overRangeSteps({ wetting, salt_water_allowed: saltAllowed }: Outing): readonly OverRangeStep[] {
  return [
    LEADS,
    DEEPER,
    ...((wetting ?? 'none') === 'none' ? [WATER] : []),
    ...(saltAllowed && wetting !== 'salt_water' ? [SALT_WATER] : []),
  ];
}

/** Where a reading has come to on the path, and which steps were really done. */
export interface OnPath {
  /** The step at hand; as many as there are steps = at its end. */
  readonly step: number;
  readonly done: readonly number[];
}

/** How the next attempt is written down: what has been done to the rods so far, and in the step at hand. */
export function attemptOn(
  steps: readonly OverRangeStep[],
  { step, done }: OnPath,
  rodCount: number,
): { readonly wetting: Wetting | null; readonly reDriven: readonly number[]; readonly note: string } {
  const had = [...done, step].flatMap((index) => steps[index] ?? []);
  return {
    wetting: had.findLast(({ wetting }) => wetting !== null)?.wetting ?? null,
    reDriven: steps[step]?.reDrivesAll ? Array.from({ length: rodCount }, (_, i) => i + 1) : [],
    note: had.length === 0 ? '' : `Was over range. Done: ${had.map(({ note }) => note).join('; ')}.`,
  };
}
