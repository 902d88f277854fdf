import { type Survey, survey as surveySchema } from '../survey/survey';

/*
 * A record carries keys that this version does not know. What they say nobody can check, so a share that hides anything
 * goes without them.
 */

type Keep = (value: unknown) => unknown;

/** What is read of a schema: its kind, and what it is made of. */
interface Def {
  readonly type: string;
  readonly shape?: Readonly<Record<string, Schema>>;
  readonly element?: Schema;
  readonly innerType?: Schema;
  readonly options?: readonly Schema[];
}
interface Schema {
  readonly _zod: { readonly def: Def };
}

const same: Keep = (value) => value;

function keeperOf({ _zod: { def } }: Schema): Keep {
  if (def.innerType) return keeperOf(def.innerType);
  if (def.type === 'array' && def.element) {
    const keep = keeperOf(def.element);
    return keep === same ? same : (value) => (Array.isArray(value) ? mapped(value, keep) : value);
  }
  // Tables and settings of the user's own: what reads them says what is in them.
  if (def.type === 'object' && def.shape && Object.keys(def.shape).length > 0) return objectKeeper([def.shape]);
  if (def.type === 'union' && def.options?.every(({ _zod }) => _zod.def.shape)) {
    return objectKeeper(def.options.map(({ _zod }) => _zod.def.shape ?? {}));
  }
  return same;
}

/** Keeps the keys of the shapes; of several, those of all that the value could be. */
function objectKeeper(shapes: readonly Readonly<Record<string, Schema>>[]): Keep {
  const keeps = new Map(
    shapes.flatMap((shape) => Object.entries(shape).map(([key, schema]) => [key, keeperOf(schema)])),
  );
  return (value) => {
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return value;
    let changed = false;
    const kept: Record<string, unknown> = {};
    for (const key in value) {
      const keep = keeps.get(key);
      const before = (value as Record<string, unknown>)[key];
      const after = keep ? keep(before) : undefined;
      if (keep) kept[key] = after;
      if (after !== before || !keep) changed = true;
    }
    return changed ? kept : value;
  };
}

function mapped(values: readonly unknown[], keep: Keep): readonly unknown[] {
  const kept = values.map(keep);
  return kept.some((value, i) => value !== values[i]) ? kept : values;
}

const keepKnown = keeperOf(surveySchema as unknown as Schema);

/** Keys of `site.settings` and of a row of `site.setback_rules`: tables of the user's own that other files read. */
export const SETTING_KEYS: ReadonlySet<string> = new Set([
  ...['depth_rule', 'standard_error_floor', 'z_threshold', 'ratio_breaks', 'ratio_breaks_two_probe'],
  ...['median_stations', 'false_discovery_rate', 'false_discovery_method', 'take_out_level'],
  ...['target_radius_m', 'target_depth_m', 'rim_distance_m'],
]);
export const RULE_KEYS: ReadonlySet<string> = new Set(['type', 'distance_m', 'from', 'with_uncertainty', 'cites']);

function withKeys<T extends object>(table: T, keys: ReadonlySet<string>): T {
  const known = Object.entries(table).filter(([key]) => keys.has(key));
  return known.length === Object.keys(table).length ? table : (Object.fromEntries(known) as T);
}

/** The same survey without keys that this version does not know; what has none stays the same object. */
export function withKnownKeys(survey: Survey): Survey {
  const known = keepKnown(survey) as Survey;
  const { settings, setback_rules: rules } = known.site;
  const [ownSettings, ownRules] = [
    settings && withKeys(settings, SETTING_KEYS),
    mapped(rules, (rule) => withKeys(rule as object, RULE_KEYS)) as typeof rules,
  ];
  if (ownSettings === settings && ownRules === rules) return known;
  return {
    ...known,
    site: { ...known.site, ...(ownSettings ? { settings: ownSettings } : {}), setback_rules: ownRules },
  };
}
