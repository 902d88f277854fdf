import { readDate } from '../../exchange/read/when';
import type { Change } from '../../survey/commit';
import type { Author } from '../../survey/edits';
import type { Hookup } from '../../survey/hookup';
import type { LineId, OutingId } from '../../survey/ids';
import { done, type Outcome, refuse } from '../../survey/outcome';
import { addOuting, correctOuting, type NewOuting } from '../../survey/outing-edits';
import type { Outing, Survey } from '../../survey/survey';
import { READING_UNITS } from '../../survey/units';
import { typedNumber } from '../state/typed-value';
import type { FieldPlan } from './field-plan';
import { spacingsTyped, stationsEvery } from './round';

/** What the set-up form comes to. */
export interface SaidInForm {
  /** The outing into the record: a new one, or what was corrected of it. */
  readonly changeFor: (survey: Survey, seed: string, author: Author) => Outcome<Change>;
  readonly planFor: (outing: OutingId | null) => FieldPlan | null;
}

export interface Chosen {
  /** The outing that is gone on with; null = a new one. */
  readonly outing: Outing | null;
  readonly hookup: Hookup | null;
  readonly line: LineId | null;
  /** Where the remote electrodes stand; not said = as they were. */
  readonly remotes?: Outing['remotes'];
}

/** Reads the form; refuses the first thing that is missing or is no number. */
export function saidInForm(text: (name: string) => string, chosen: Chosen): Outcome<SaidInForm> {
  const day = outingSaid(text, chosen);
  if (!day.ok) return day;
  const round = roundSaid(text, chosen);
  if (!round.ok) return round;
  const { outing } = chosen;
  return done({
    changeFor: (survey, seed, author) =>
      outing === null
        ? addOuting(survey, day.value, seed, author)
        : correctOuting(survey, outing.id, correctionOf(outing, day.value), author),
    planFor: (id) => (id === null ? null : { ...round.value, outing: id }),
  });
}

/** Half the thickness of a rod that a person drives; beyond it another unit was meant. Choice. */
const THICKEST_ROD_M = 0.1;

function outingSaid(text: (name: string) => string, { hookup, outing, remotes }: Chosen): Outcome<NewOuting> {
  const unit = READING_UNITS.find((each) => each === text('unit'));
  if (hookup === null) return refuse('no_hookup', 'Say how the probes are wired: it is never guessed.');
  if (!unit) return refuse('no_unit', 'Say what the meter shows. It stays the same for the whole outing.');
  const limit = optional(text('limit'), 'The upper limit');
  if (!limit.ok) return limit;
  const length = optional(text('rod_length'), 'The length of the rods');
  if (!length.ok) return length;
  const radius = optional(text('rod_radius'), 'The radius of the rods');
  if (!radius.ok) return radius;
  if ((radius.value ?? 0) > THICKEST_ROD_M) {
    return refuse('rod_too_thick', 'The radius of the rods is in metres: a rod 12 mm thick has 0.006.');
  }
  const formula = text('formula') === 'two_pi_a' || text('formula') === 'hookup' ? text('formula') : null;
  const serial = text('serial').trim();
  const rod = { length_m: length.value, radius_m: radius.value };
  // A new name that is a date says the day anew: so a day that a wrong clock gave can be put right.
  const date = text('name').trim() === outing?.name ? null : readDate(text('name').trim());
  const hasRod = length.value !== null || radius.value !== null;
  return done({
    name: text('name'),
    ...(date === null ? {} : { date }),
    people: text('people')
      .split(/[,;]/)
      .map((name) => name.trim())
      .filter((name) => name !== ''),
    unit,
    hookup,
    wetting: text('wetting') === 'water' ? 'water' : 'none',
    saltWaterAllowed: text('salt') === 'yes',
    meter: {
      ...(outing?.meter ?? {}),
      serial: serial === '' ? null : serial,
      formula: formula as 'two_pi_a' | 'hookup' | null,
      upper_limit: limit.value,
      upper_limit_unit: limit.value === null ? null : unit,
    },
    rods: hasRod ? [{ ...(outing?.rods[0] ?? {}), ...rod }, ...(outing?.rods.slice(1) ?? [])] : (outing?.rods ?? []),
    ...(remotes ? { remotes } : {}),
  });
}

function correctionOf(before: Outing, { saltWaterAllowed, ...said }: NewOuting) {
  return { ...said, salt_water_allowed: saltWaterAllowed ?? before.salt_water_allowed };
}

function optional(typed: string, what: string): Outcome<number | null> {
  if (typed.trim() === '') return done(null);
  const number = typedNumber(typed);
  return number.ok ? number : refuse(number.code, `${what}: ${number.sentence}`);
}

function roundSaid(text: (name: string) => string, { hookup, line }: Chosen): Outcome<Omit<FieldPlan, 'outing'>> {
  if (line === null) return refuse('no_line', 'Choose the line.');
  const from = typedNumber(text('from'));
  if (!from.ok) return refuse(from.code, `First station: ${from.sentence}`);
  const to = typedNumber(text('to'));
  if (!to.ok) return refuse(to.code, `Last station: ${to.sentence}`);
  const step = typedNumber(text('step'));
  if (!step.ok) return refuse(step.code, `A station every: ${step.sentence}`);
  const stations = stationsEvery(from.value, to.value, step.value);
  if (!stations.ok) return stations;
  const spacings = spacingsTyped(text('spacings'));
  if (!spacings.ok) return spacings;
  const needsN = hookup === 'dipole_dipole' || hookup === 'pole_dipole';
  const n = needsN ? typedNumber(text('n')) : null;
  if (n && !(n.ok && n.value > 0)) return refuse('no_n', 'The separation factor n has to be a number above 0.');
  const inner = hookup === 'schlumberger' ? typedNumber(text('inner')) : null;
  if (inner && !(inner.ok && inner.value > 0)) {
    return refuse('no_inner_spacing', 'The potential spacing MN has to be a number of metres above 0.');
  }
  const rodsFrom = optional(text('rods_from'), 'No rod before');
  if (!rodsFrom.ok) return rodsFrom;
  const rodsTo = optional(text('rods_to'), 'No rod beyond');
  if (!rodsTo.ok) return rodsTo;
  return done({
    line,
    order: text('order') === 'traverse' ? 'traverse' : 'ladder',
    stationsM: stations.value,
    spacingsM: spacings.value,
    n: n?.ok ? n.value : null,
    innerSpacingM: inner?.ok ? inner.value : null,
    leapfrog: text('leapfrog') === 'yes',
    again: text('again') === 'yes',
    rodsFromM: rodsFrom.value,
    rodsToM: rodsTo.value,
  });
}
