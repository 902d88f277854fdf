import type { Collection } from './commit';
import type { Survey } from './survey';

/** Their ids and the ones that stand for them in the joined survey. */
export type IdMap = ReadonlyMap<string, string>;

type Member<C extends Collection> = Survey[C][number];

/** An entity of theirs with the joined survey's ids of what it speaks of. The same object where nothing changes. */
export function remapped<C extends Collection>(collection: C, entity: Member<C>, ids: IdMap): Member<C> {
  if (ids.size === 0) return entity;
  return REMAP[collection](entity, ids);
}

const to = <T extends string>(id: T, ids: IdMap): T => (ids.get(id) as T | undefined) ?? id;

/** The line in the name of a doubt: `code:line:chainage:spacing`, and what tells it apart. */
const toWithin = (doubt: string, ids: IdMap): string =>
  doubt
    .split(':')
    .map((part, i) => (i === 1 || i > 3 ? to(part, ids) : part))
    .join(':');

const REMAP: { readonly [C in Collection]: (entity: Member<C>, ids: IdMap) => Member<C> } = {
  outings: (outing) => outing,
  lines: (line, ids) =>
    line.path.some((item) => item.kind === 'offset' && ids.has(item.base_line))
      ? {
          ...line,
          path: line.path.map((item) =>
            item.kind === 'offset' ? { ...item, base_line: to(item.base_line, ids) } : item,
          ),
        }
      : line,
  readings: (reading, ids) =>
    ids.has(reading.line) || (reading.outing && ids.has(reading.outing))
      ? {
          ...reading,
          line: to(reading.line, ids),
          ...(reading.outing ? { outing: to(reading.outing, ids) } : {}),
        }
      : reading,
  references: (reference, ids) => ({
    ...reference,
    stations: reference.stations.map((station) => ({ ...station, line: to(station.line, ids) })),
    ...(reference.serves ? { serves: reference.serves.map((line) => to(line, ids)) } : {}),
  }),
  surroundings: (surrounding) => surrounding,
  features: (feature, ids) => ({
    ...feature,
    ...(feature.merged_into ? { merged_into: to(feature.merged_into, ids) } : {}),
    ...(feature.links ? { links: feature.links.map((link) => ({ ...link, target: to(link.target, ids) })) } : {}),
  }),
  photos: (photo, ids) => (ids.has(photo.subject) ? { ...photo, subject: to(photo.subject, ids) } : photo),
  settlements: (settlement, ids) => {
    const doubt = toWithin(settlement.doubt, ids);
    return doubt === settlement.doubt ? settlement : { ...settlement, doubt };
  },
};
