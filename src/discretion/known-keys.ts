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

/** The same survey without keys that this version does not know; what has none stays the same object. */
export const withKnownKeys = (survey: Survey): Survey => keepKnown(survey) as Survey;
