import * as z from 'zod/mini';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Feature, Survey } from '../survey/survey';
import type { Audience } from './audience';

/*
 * Classes of confidentiality are the user's own, as law and the owner's word ask for them. There are none of ours; a
 * feature whose class says nothing is treated with care.
 */

/** How exactly a feature is shown. A grid is the side of its squares in metres. */
export type Showing =
  | { readonly show: 'exact' }
  | { readonly show: 'generalised'; readonly grid_m: number }
  | { readonly show: 'withheld' };

const showing = z.discriminatedUnion('show', [
  z.object({ show: z.literal('exact') }),
  z.object({ show: z.literal('generalised'), grid_m: z.number().check(z.gte(10), z.lte(100_000)) }),
  z.object({ show: z.literal('withheld') }),
]);

const discretionClass = z.looseObject({
  name: z.string().check(z.minLength(1)),
  keeper: showing,
  planner: showing,
  public: showing,
  /** What is this near to a protected place may give it away, m. */
  protect_radius_m: z.number().check(z.gte(0), z.lte(10_000)),
  /** The law or the owner's word that asks for it, as the user states it. */
  cites: z.optional(z.nullable(z.string())),
});

export interface DiscretionClass {
  readonly name: string;
  readonly keeper: Showing;
  readonly planner: Showing;
  readonly public: Showing;
  readonly protect_radius_m: number;
  readonly cites?: string | null | undefined;
}

/** Reads a table of classes. Refusals: `not_a_class` (which and where), `two_classes` (which name). */
export function readDiscretionClasses(table: unknown): Outcome<readonly DiscretionClass[]> {
  if (!Array.isArray(table)) {
    return refuse(
      'not_a_class',
      'The classes are a list, each with name, keeper, planner, public and protect_radius_m.',
    );
  }
  const classes: DiscretionClass[] = [];
  for (const [i, row] of table.entries()) {
    const parsed = discretionClass.safeParse(row);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const where = issue?.path.map(String).join('.') || 'the class';
      return refuse('not_a_class', `Class ${i + 1} is wrong at ${where}: ${issue?.message ?? 'not readable'}.`);
    }
    const read = parsed.data as DiscretionClass;
    if (classes.some(({ name }) => name === read.name)) {
      return refuse('two_classes', `The class “${read.name}” stands twice. Keep one of them.`);
    }
    classes.push(read);
  }
  return done(classes);
}

/** Openings that people can go into, or be led to: shown to outsiders only where somebody said so. Choice. */
const CAREFUL_TYPES: readonly string[] = ['cave_entrance', 'shaft'];
/** Radius of what has no class. Choice. */
const CAREFUL_RADIUS_M = 50;

/** How a feature is shown to an audience, by which rule, and how far around it things may give it away. */
export interface FeatureShowing {
  readonly showing: Showing;
  readonly radiusM: number;
  readonly rule: string;
  readonly reason: string;
}

const EXACT: FeatureShowing = { showing: { show: 'exact' }, radiusM: 0, rule: 'none', reason: '' };

/**
 * The class of the feature decides. A confidentiality that no class describes is withheld from all but the surveyor; an
 * owner who said no is obeyed, and an opening without a word on it is withheld, before planners and the public.
 */
export function showingFor(feature: Feature, audience: Audience, classes: readonly DiscretionClass[]): FeatureShowing {
  if (audience === 'surveyor') return EXACT;
  const { confidentiality, owner_consent: consent, type } = feature;
  const own = classes.find(({ name }) => name === confidentiality);
  const withheld = (rule: string, reason: string): FeatureShowing => ({
    showing: { show: 'withheld' },
    radiusM: own?.protect_radius_m ?? CAREFUL_RADIUS_M,
    rule,
    reason,
  });
  if (audience !== 'keeper' && consent?.given === 'no') return withheld('owner', 'the owner has not agreed');
  if (own) {
    const said = own[audience];
    if (said.show === 'exact') return { ...EXACT, rule: own.name };
    return {
      showing: said,
      radiusM: own.protect_radius_m,
      rule: own.name,
      reason: own.cites ?? 'its class asks for it',
    };
  }
  if (confidentiality) return withheld('no such class', 'nobody has said what its class means');
  if (audience !== 'keeper' && CAREFUL_TYPES.includes(type)) {
    return withheld('opening without a class', 'nobody has said that it may be shown');
  }
  return EXACT;
}

/** The classes of a survey. */
export const classesOf = ({ site }: Survey): Outcome<readonly DiscretionClass[]> =>
  readDiscretionClasses(site.discretion_classes);
