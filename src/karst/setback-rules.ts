import * as z from 'zod/mini';
import { FEATURE_TYPES, featureTypeOf } from '../survey/feature-type';
import { done, type Outcome, refuse } from '../survey/outcome';

/*
 * The user's own table of distances. There are none of ours: what has to be kept is local law and local knowledge.
 */

const ruleSchema = z.looseObject({
  /** A code of a type, "sinkhole" for all kinds of it, or "any". */
  type: z.string(),
  distance_m: z.number().check(z.nonnegative(), z.lte(100_000)),
  /** `edge` or `rim`: from the mapped edge, or for a point from half its longest recorded extent; `point`: from its middle. */
  from: z.enum(['edge', 'rim', 'point']),
  /** Whether the 95 % radius of the position is added. */
  with_uncertainty: z.boolean(),
  /** The local code or decision that asks for it. */
  cites: z.optional(z.nullable(z.string())),
});

export interface SetbackRule {
  readonly type: string;
  readonly distance_m: number;
  readonly from: 'edge' | 'rim' | 'point';
  readonly with_uncertainty: boolean;
  readonly cites?: string | null | undefined;
}

/** Reads a table of rules. Refusals: `not_a_rule` (which and why), `unknown_type`, `two_rules`. */
export function readSetbackRules(table: unknown): Outcome<readonly SetbackRule[]> {
  if (!Array.isArray(table)) {
    return refuse('not_a_rule', 'The rules are a list, each with type, distance_m, from and with_uncertainty.');
  }
  const rules: SetbackRule[] = [];
  for (const [i, row] of table.entries()) {
    const parsed = ruleSchema.safeParse(row);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const where = issue?.path.map(String).join('.') || 'the rule';
      return refuse('not_a_rule', `Rule ${i + 1} is wrong at ${where}: ${issue?.message ?? 'not readable'}.`);
    }
    const type = typeOfRule(parsed.data.type);
    if (type === null) {
      return refuse(
        'unknown_type',
        `Rule ${i + 1} is for “${parsed.data.type.slice(0, 60)}”. It has to be any, sinkhole, or one of ${FEATURE_TYPES.join(', ')}.`,
      );
    }
    if (rules.some((rule) => rule.type === type))
      return refuse('two_rules', `There are two rules for ${type}. Keep one.`);
    rules.push({ ...parsed.data, type });
  }
  return done(rules);
}

function typeOfRule(word: string): string | null {
  if (word === 'any' || word === 'sinkhole') return word;
  return featureTypeOf(word);
}

/** The rule of a feature: that of its own type, else of its group, else of any; null without one. */
export function ruleFor(rules: readonly SetbackRule[], typeText: string): SetbackRule | null {
  const type = featureTypeOf(typeText);
  const wanted = [type, type?.startsWith('sinkhole_') ? 'sinkhole' : null, 'any'];
  for (const name of wanted) {
    const rule = rules.find((candidate) => candidate.type === name);
    if (rule) return rule;
  }
  return null;
}
