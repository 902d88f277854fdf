import type { Survey } from './survey';

/** The collections of a survey whose members are entities with an id. */
export const COLLECTIONS = [
  'outings',
  'lines',
  'readings',
  'references',
  'surroundings',
  'features',
  'photos',
  'settlements',
] as const;
export type Collection = (typeof COLLECTIONS)[number];

type Member<C extends Collection> = Survey[C][number];

/**
 * Plain change data: entities to put in, by id, and ids to take out.
 * Only the undo of an addition takes out; a person's delete retires.
 */
export interface Change {
  readonly label: string;
  readonly site?: Survey['site'];
  readonly put?: { readonly [C in Collection]?: readonly Member<C>[] };
  readonly drop?: { readonly [C in Collection]?: readonly string[] };
}

export interface Commit {
  readonly survey: Survey;
  /** Applying it gives back the survey from before, entity by entity. */
  readonly undo: Change;
}

/** Applies a change and derives its undo. Entities that the change does not name stay the same objects. */
export function commit(survey: Survey, change: Change): Commit {
  const next: Record<string, unknown> = { ...survey };
  const putBack: Record<string, unknown[]> = {};
  const takeOut: Record<string, string[]> = {};

  for (const collection of COLLECTIONS) {
    const put = change.put?.[collection] ?? [];
    const drop = change.drop?.[collection] ?? [];
    if (put.length === 0 && drop.length === 0) continue;
    const incoming = new Map<string, unknown>(put.map((entity) => [entity.id, entity]));
    const outgoing = new Set<string>(drop);
    const kept: unknown[] = [];
    const before: unknown[] = [];
    for (const entity of survey[collection]) {
      if (outgoing.has(entity.id)) {
        before.push(entity);
        continue;
      }
      const replacement = incoming.get(entity.id);
      if (replacement === undefined) {
        kept.push(entity);
        continue;
      }
      before.push(entity);
      kept.push(replacement);
      incoming.delete(entity.id);
    }
    next[collection] = [...kept, ...incoming.values()];
    if (before.length > 0) putBack[collection] = before;
    if (incoming.size > 0) takeOut[collection] = [...incoming.keys()];
  }
  if (change.site) next.site = change.site;

  return {
    survey: next as Survey,
    undo: {
      label: change.label,
      ...(change.site ? { site: survey.site } : {}),
      put: putBack as Change['put'],
      drop: takeOut as Change['drop'],
    },
  };
}
