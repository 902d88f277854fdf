import { type Change, COLLECTIONS, type Collection } from './commit';
import type { Survey } from './survey';

/**
 * What leads from one state of a survey to another, as change data that can be undone.
 * Entities are compared by what they hold, since a survey that came from a worker has no object in common with ours.
 * Entities that the other state does not have stay: nothing is deleted by bringing files in.
 */
export function differenceOf(before: Survey, after: Survey, label: string): Change {
  const put: { [C in Collection]?: Survey[C][number][] } = {};
  for (const collection of COLLECTIONS) {
    const known = new Map<string, string>(before[collection].map((entity) => [entity.id, JSON.stringify(entity)]));
    const changed = after[collection].filter((entity) => known.get(entity.id) !== JSON.stringify(entity));
    if (changed.length > 0) Object.assign(put, { [collection]: changed });
  }
  const sameSite = JSON.stringify(before.site) === JSON.stringify(after.site);
  return { label, ...(sameSite ? {} : { site: after.site }), put: put as Change['put'] };
}
