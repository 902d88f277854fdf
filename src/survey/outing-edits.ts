import type { Change } from './commit';
import type { Author } from './edits';
import { makeId, type OutingId } from './ids';
import { done, type Outcome, refuse } from './outcome';
import type { Outing, Survey } from './survey';
import type { ReadingUnit } from './units';

/** What is said of a day's work before its first reading. */
export interface NewOuting {
  /** Most often the date. */
  readonly name: string;
  readonly date?: string;
  readonly people?: readonly string[];
  readonly meter?: Outing['meter'];
  readonly unit: ReadingUnit;
  readonly hookup: NonNullable<Outing['hookup']>;
  readonly wetting: NonNullable<Outing['wetting']>;
  readonly saltWaterAllowed?: boolean;
  readonly rods?: Outing['rods'];
  readonly remotes?: Outing['remotes'];
}

/**
 * Adds an outing. `seed` is random and comes from the shell.
 * Refuses a missing or taken name, and a limit, rod length or radius that is not above 0.
 */
export function addOuting(survey: Survey, said: NewOuting, seed: string, author: Author): Outcome<Change> {
  const name = freeName(survey, said.name, null);
  if (!name.ok) return name;
  const numbers = positiveNumbers(said);
  if (!numbers.ok) return numbers;
  const outing: Outing = {
    id: makeId('outing', seed, name.value),
    revised: { at: author.at, by: author.by, count: 0 },
    name: name.value,
    ...(said.date === undefined ? {} : { date: said.date }),
    people: said.people ?? [],
    ...(said.meter ? { meter: said.meter } : {}),
    unit: said.unit,
    hookup: said.hookup,
    wetting: said.wetting,
    ...(said.saltWaterAllowed === undefined ? {} : { salt_water_allowed: said.saltWaterAllowed }),
    rods: said.rods ?? [],
    remotes: said.remotes ?? [],
  };
  return done({ label: `Add outing ${name.value}`, put: { outings: [outing] } });
}

export type OutingCorrection = Partial<Omit<Outing, 'id' | 'revised' | 'retired'>>;

/** Corrects what was said of an outing. Its readings stay as they were written down. */
export function correctOuting(
  survey: Survey,
  id: OutingId,
  correction: OutingCorrection,
  author: Author,
): Outcome<Change> {
  const before = survey.outings.find((outing) => outing.id === id && !outing.retired);
  if (!before) return refuse('no_such_outing', 'That outing is not in this survey any more. Choose another.');
  const name = freeName(survey, correction.name ?? before.name, id);
  if (!name.ok) return name;
  const numbers = positiveNumbers(correction);
  if (!numbers.ok) return numbers;
  const revised = { ...before.revised, at: author.at, by: author.by, count: before.revised.count + 1 };
  const corrected: Outing = { ...before, ...correction, name: name.value, revised };
  return done({ label: `Correct outing ${name.value}`, put: { outings: [corrected] } });
}

/** Readings in tables name their outing, so each name is used once. */
function freeName(survey: Survey, said: string, own: OutingId | null): Outcome<string> {
  const name = said.trim();
  if (name === '') return refuse('no_name', 'An outing needs a name; its date will do.');
  const taken = survey.outings.some((outing) => outing.id !== own && !outing.retired && outing.name === name);
  return taken ? refuse('name_taken', `There is an outing “${name}” already. Give this one another name.`) : done(name);
}

function positiveNumbers({ meter, rods }: Pick<Partial<Outing>, 'meter' | 'rods'>): Outcome<null> {
  const limit = meter?.upper_limit;
  if (typeof limit === 'number' && !(limit > 0 && Number.isFinite(limit))) {
    return refuse('limit_not_positive', 'The upper limit of the meter has to be a number above 0.');
  }
  for (const { length_m: length, radius_m: radius } of rods ?? []) {
    if ([length, radius].some((each) => typeof each === 'number' && !(each > 0 && Number.isFinite(each)))) {
      return refuse('rod_not_positive', 'The length and the radius of a rod have to be above 0 m.');
    }
  }
  return done(null);
}
