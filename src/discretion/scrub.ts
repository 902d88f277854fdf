import type { Findings } from '../findings';
import type { Survey } from '../survey/survey';
import type { Leak } from './leak';
import type { Telling } from './telling';
import { isProse, KIND_OF } from './texts';

/** What stands where a text was taken out. */
export const TAKEN_OUT = '(withheld)';

/**
 * A value with every text that tells taken out, at any depth; what holds none stays the same object. Words without a blank
 * are numbered instead, each by its own number, so that what names another by it still does.
 */
function scrubber(): <T>(value: T, tells: (text: string) => boolean) => T {
  const numbers = new Map<string, string>();
  const instead = (text: string): string => {
    if (/\s/.test(text)) return TAKEN_OUT;
    const known = numbers.get(text) ?? `withheld-${numbers.size + 1}`;
    numbers.set(text, known);
    return known;
  };
  const scrub = (value: unknown, key: string, tells: (text: string) => boolean): unknown => {
    if (typeof value === 'string') return isProse(key, value) && tells(value) ? instead(value) : value;
    if (typeof value !== 'object' || value === null) return value;
    if (Array.isArray(value)) {
      let changed: unknown[] | null = null;
      for (let i = 0; i < value.length; i += 1) {
        const after = scrub(value[i], key, tells);
        if (after !== value[i]) {
          changed ??= [...value];
          changed[i] = after;
        }
      }
      return changed ?? value;
    }
    let changed: Record<string, unknown> | null = null;
    for (const name in value) {
      const before = (value as Record<string, unknown>)[name];
      const after = scrub(before, name, tells);
      if (after !== before) {
        changed ??= { ...value };
        changed[name] = after;
      }
    }
    return changed ?? value;
  };
  return (value, tells) => scrub(value, '', tells) as typeof value;
}

/**
 * A share without the texts that tell of hidden features, but for those that somebody accepted where they stand. Findings
 * quote names of the record, so what was accepted there may stand in them.
 */
export function withoutTexts(
  survey: Survey,
  findings: Findings,
  { tells }: Telling,
  accepted: readonly Leak[],
): { readonly survey: Survey; readonly findings: Findings } {
  const scrub = scrubber();
  const allowed = new Map<string, Set<string>>();
  const allowedAnywhere = new Set<string>();
  for (const { kind, id, feature } of accepted) {
    if (kind !== 'named') continue;
    const key = id.slice('named:'.length, -(feature.length + 1));
    allowed.set(key, (allowed.get(key) ?? new Set()).add(feature));
    allowedAnywhere.add(feature);
  }
  const telling =
    (may: ReadonlySet<string> | undefined) =>
    (text: string): boolean =>
      tells(text).some(({ feature }) => !may?.has(feature.id));
  const plain = telling(undefined);
  const next: Record<string, unknown> = { ...survey, id: scrub({ id: survey.id }, plain).id };
  for (const [collection, kind] of KIND_OF) {
    next[collection] = survey[collection].map((entity) => {
      const may = allowed.get(`${kind}:${entity.id}`);
      return scrub(entity, may ? telling(may) : plain);
    });
  }
  const { name, notes, ...rest } = survey.site;
  next.site = {
    ...scrub(rest, telling(allowed.get('site'))),
    name: scrub(name, telling(allowed.get('site.name'))),
    ...(notes === undefined ? {} : { notes: scrub(notes, telling(allowed.get('site.notes'))) }),
  };
  return { survey: next as Survey, findings: scrub(findings, telling(allowedAnywhere)) };
}
