import type { Change, Collection } from '../../survey/commit';
import { commit } from '../../survey/commit';
import { emptySurvey } from '../../survey/empty-survey';
import { type LineId, makeId, type OutingId } from '../../survey/ids';
import type {
  Feature,
  Fix,
  Line,
  LocalGrid,
  Outing,
  PathItem,
  Position,
  Reading,
  Reference,
  Revised,
  Site,
  Survey,
} from '../../survey/survey';
import type { Draft, LineDraft, ReadingDraft } from './draft';
import { withSaid } from './sheet';
import { readDate } from './when';

/*
 * Matching what tables say with what a survey already holds.
 *
 * An entity is found by the id that its natural key gives, else by that key itself (it may have been made by hand), so
 * reading a table twice changes nothing. Values that the table gives are taken, those that it does not give are left,
 * and what is the same stays the same object.
 */

const UNREVISED: Revised = { at: null, by: null, count: 0 };

export interface Merged {
  readonly survey: Survey;
  /** Entities last changed by a person in which the tables have changed a value. */
  readonly overwritten: number;
}

/** Puts a draft into a survey, or makes a new one of it. The seed and the natural keys give the ids. */
export function mergeDraft(draft: Draft, seed: string, siteName: string, into: Survey | undefined): Merged {
  const base = into ?? emptySurvey(seed, siteName);
  const merge = new Merge(base, seed);
  merge.grids([...draft.grids.values()].map(({ grid }) => grid));
  merge.outings(draft);
  merge.lines(draft);
  merge.readings(draft.readings);
  merge.references(draft);
  merge.features(draft);
  return { survey: merge.finish(), overwritten: merge.overwritten };
}

class Merge {
  overwritten = 0;
  private site: Site | null = null;
  private readonly put: { [C in Collection]?: Survey[C][number][] } = {};
  private readonly lineIds = new Map<string, LineId>();
  private readonly outingIds = new Map<string, OutingId>();

  constructor(
    private readonly base: Survey,
    private readonly seed: string,
  ) {}

  finish(): Survey {
    if (this.site === null && Object.keys(this.put).length === 0) return this.base;
    const change: Change = {
      label: 'Read tables',
      ...(this.site ? { site: this.site } : {}),
      put: this.put as NonNullable<Change['put']>,
    };
    return commit(this.base, change).survey;
  }

  grids(grids: readonly LocalGrid[]): void {
    let known = this.base.site.local_grids;
    for (const grid of grids) {
      const before = known.find((candidate) => candidate.name === grid.name);
      if (!before) known = [...known, grid];
      else if (!isSame({ ...before, ...grid }, before)) {
        known = known.map((candidate) => (candidate === before ? { ...before, ...grid } : candidate));
      }
    }
    if (known === this.base.site.local_grids) return;
    const { revised } = this.base.site;
    this.site = {
      ...this.base.site,
      local_grids: known,
      // A site made just now has not been revised by its own first grid.
      revised: revised === UNREVISED ? revised : bumped(revised),
    };
  }

  outings(draft: Draft): void {
    const find = finder(this.base.outings, (outing) => outing.name);
    for (const [name, remoteDrafts] of draft.outings) {
      const id = makeId('outing', this.seed, name);
      const before = find(id, name);
      const given = remoteDrafts.map(({ role, position }) => ({ role, position }));
      const others = before?.remotes.filter((remote) => !given.some(({ role }) => role === remote.role)) ?? [];
      const remotes = given.map((remote) => {
        const same = before?.remotes.find((candidate) => candidate.role === remote.role);
        return same ? overlay(same, { ...remote, position: overlayPosition(same.position, remote.position) }) : remote;
      });
      const date = readDate(name);
      const values: Partial<Outing> = {
        name,
        ...(date === null ? {} : { date }),
        // Order is not news.
        ...(before && given.length === 0 ? {} : { remotes: keepOrder(before?.remotes ?? [], [...others, ...remotes]) }),
      };
      const fresh = (): Outing => ({ id, revised: UNREVISED, name, people: [], rods: [], remotes, ...values });
      this.outingIds.set(name, this.take('outings', before, values, fresh).id);
    }
  }

  lines(draft: Draft): void {
    const find = finder(this.base.lines, (line) => line.name);
    for (const line of draft.lines.values()) {
      const id = makeId('line', this.seed, line.name);
      const before = find(id, line.name);
      const values: Partial<Line> = {
        name: line.name,
        ...(line.hookup === null ? {} : { hookup: line.hookup }),
        ...(line.layout ? { layout: line.layout } : {}),
        path: this.pathOf(line, before?.path ?? []),
        profile: profileOf(line, before?.profile ?? []),
      };
      const fresh = (): Line => ({
        id,
        revised: UNREVISED,
        name: line.name,
        path: [],
        profile: [],
        ...values,
      });
      this.lineIds.set(line.name, this.take('lines', before, values, fresh).id);
    }
  }

  private pathOf(line: LineDraft, before: readonly PathItem[]): readonly PathItem[] {
    const find = finder(before, pathKey);
    const count = counter();
    const incoming = new Map<string, PathItem>();
    const add = (key: string, values: Omit<Fix, 'id'> | Omit<Extract<PathItem, { kind: 'leg' }>, 'id'>): void => {
      const ordinal = count(key);
      const id = makeId('path', this.seed, `${line.name}|${key}|${ordinal}`);
      const known = find(id, key);
      if (!known) incoming.set(id, { id, ...values });
      else if (known.kind === 'fix' && values.kind === 'fix') {
        const position = overlayPosition(known.position, values.position);
        incoming.set(known.id, overlay(known, { ...values, position }));
      } else incoming.set(known.id, overlay(known, values as Partial<PathItem>));
    };
    for (const { chainageM, position } of line.fixes) {
      const values = { kind: 'fix' as const, chainage_m: chainageM, position };
      add(pathKey(values), values);
    }
    for (const leg of line.legs) {
      const values = { kind: 'leg' as const, ...leg };
      add(pathKey(values), values);
    }
    const kept = before.map((item) => {
      const replacement = incoming.get(item.id);
      incoming.delete(item.id);
      return replacement ?? item;
    });
    return sameMembers(before, [...kept, ...incoming.values()]);
  }

  readings(drafts: readonly ReadingDraft[]): void {
    const lineNames = new Map(this.base.lines.map((line) => [line.id as string, line.name]));
    const outingNames = new Map(this.base.outings.map((outing) => [outing.id as string, outing.name]));
    const find = finder(this.base.readings, (reading) =>
      readingKey(lineNames.get(reading.line) ?? '', outingNames.get(reading.outing ?? '') ?? '', reading),
    );
    const count = counter();
    for (const draft of drafts) {
      const line = this.lineIds.get(draft.line);
      if (line === undefined) continue;
      const outing = draft.outing ?? '';
      const key = readingKey(draft.line, outing, draft.values);
      const ordinal = count(key);
      const id = makeId('reading', this.seed, `${key}|${ordinal}`);
      // A hookup that was not said before and is now must not make the reading a second one.
      const before = find(id, key, () => readingKey(draft.line, outing, { ...draft.values, hookup: 'unknown' }));
      const outingId = draft.outing === null ? undefined : this.outingIds.get(draft.outing);
      const own = { outing: outingId ?? null, repeat: ordinal > 0 ? ordinal : null };
      const values = before ? withSaid<Partial<Reading>>({ line, ...valuesOver(before, draft) }, own) : {};
      this.take('readings', before, values, () => withSaid({ id, revised: UNREVISED, line, ...draft.values }, own));
    }
  }

  references(draft: Draft): void {
    const find = finder(this.base.references, (reference) => reference.name);
    for (const [file, stations] of draft.references) {
      const id = makeId('reference', this.seed, file);
      const before = find(id, 'reference');
      const listed = [...stations.values()].flatMap(({ line, chainageM }) => {
        const lineId = this.lineIds.get(line);
        return lineId === undefined ? [] : [{ line: lineId, chainage_m: chainageM }];
      });
      const values: Partial<Reference> = { stations: listed };
      this.take('references', before, values, () => ({ id, revised: UNREVISED, name: 'reference', stations: listed }));
    }
  }

  features(draft: Draft): void {
    const find = finder(this.base.features, featureKey);
    const count = counter();
    for (const { values } of draft.features) {
      const key = featureKey(values);
      const id = makeId('feature', this.seed, `${key}|${count(key)}`);
      const before = find(id, key);
      const [was, is] = [before?.positions[0], values.positions[0]];
      const positions = was && is ? [overlayPosition(was, is)] : values.positions;
      this.take('features', before, { ...values, positions }, () => ({ id, revised: UNREVISED, ...values }));
    }
  }

  private take<C extends 'outings' | 'lines' | 'readings' | 'references' | 'features', T extends Survey[C][number]>(
    collection: C,
    before: T | undefined,
    values: Partial<T>,
    fresh: () => T,
  ): T {
    const after = before ? overlay(before, values) : fresh();
    if (after === before) return after;
    let entity = after;
    if (before) {
      if (before.revised.by !== null) this.overwritten += 1;
      entity = { ...after, revised: bumped(before.revised) };
    }
    const list = (this.put[collection] ?? []) as T[];
    list.push(entity);
    this.put[collection] = list as never;
    return entity;
  }
}

/** What a table says of a reading that is known already. */
function valuesOver(before: Reading, { values, statusSaid }: ReadingDraft): Partial<Reading> {
  const { status, ...rest } = values;
  const keepsRejection = !statusSaid && before.status === 'rejected';
  return {
    ...rest,
    ...(rest.position && before.position ? { position: overlayPosition(before.position, rest.position) } : {}),
    ...(keepsRejection ? {} : { status }),
  };
}

/** No person and no clock here: a table changed it. */
const bumped = (revised: Revised): Revised => ({ ...revised, at: null, by: null, count: revised.count + 1 });

/**
 * Finds members by id, else by key in the order in which they stand (the n-th of a key is the n-th row of that key), else
 * by a second key. Each is found once.
 */
function finder<T extends { readonly id: string }>(members: readonly T[], keyOf: (member: T) => string) {
  const byId = new Map<string, T>(members.map((member) => [member.id, member]));
  const byKey = new Map<string, T[]>();
  for (const member of members) {
    const key = keyOf(member);
    const list = byKey.get(key);
    if (list) list.push(member);
    else byKey.set(key, [member]);
  }
  // Live members come before retired ones of the same key; reversed, since they are taken from the end.
  for (const list of byKey.values()) {
    if (list.length > 1) list.sort((p, q) => retirement(p) - retirement(q)).reverse();
  }
  const found = new Set<T>();
  const claim = (member: T | undefined): T | undefined => {
    if (member === undefined || found.has(member)) return undefined;
    found.add(member);
    return member;
  };
  const next = (key: string): T | undefined => {
    const list = byKey.get(key);
    while (list && list.length > 0) {
      const member = claim(list.pop());
      if (member) return member;
    }
    return undefined;
  };
  return (id: string, key: string, otherKey?: () => string): T | undefined => {
    if (byId.size === 0) return undefined;
    return claim(byId.get(id)) ?? next(key) ?? (otherKey ? next(otherKey()) : undefined);
  };
}

const retirement = (member: object): number => ('retired' in member && member.retired === true ? 1 : 0);

/** How often each key has been seen before. */
function counter(): (key: string) => number {
  const seen = new Map<string, number>();
  return (key) => {
    const count = seen.get(key) ?? 0;
    seen.set(key, count + 1);
    return count;
  };
}

function pathKey(item: PathItem | Omit<Fix, 'id'> | Omit<Extract<PathItem, { kind: 'leg' }>, 'id'>): string {
  switch (item.kind) {
    case 'fix':
      return `fix|${item.chainage_m}|${item.position.source ?? ''}|${item.position.time ?? ''}`;
    case 'leg':
      return `leg|${item.from_chainage_m}`;
    default:
      return item.kind;
  }
}

type ReadingLike = Pick<
  Reading,
  'midpoint_m' | 'spacing_m' | 'electrodes' | 'hookup' | 'n' | 'inner_spacing_m' | 'time' | 'position'
>;

function readingKey(line: string, outing: string, reading: ReadingLike): string {
  const { electrodes, position } = reading;
  const probes = electrodes ? `${electrodes.a_m},${electrodes.b_m},${electrodes.m_m},${electrodes.n_m}` : '';
  const isTied = electrodes || typeof reading.midpoint_m === 'number';
  const place = position && !isTied ? `${position.x},${position.y},${position.crs}` : '';
  const layout = `${reading.midpoint_m ?? ''}|${reading.spacing_m ?? ''}|${probes}|${reading.hookup ?? ''}`;
  return `${line}|${outing}|${layout}|${reading.n ?? ''}|${reading.inner_spacing_m ?? ''}|${reading.time ?? ''}|${place}`;
}

function featureKey(feature: Omit<Feature, 'id' | 'revised'>): string {
  // Two lists number their features each from one.
  if (feature.external_id) return `id|${feature.source ?? ''}|${feature.external_id}`;
  const place = feature.positions[0];
  return ['at', feature.type, feature.name ?? '', place?.x ?? '', place?.y ?? '', place?.crs ?? ''].join('|');
}

/** Heights by chainage: those of the table, and the known ones at other chainages. */
function profileOf(line: LineDraft, before: Line['profile']): Line['profile'] {
  if (line.profile.length === 0) return before;
  const heights = new Map(before.map((point) => [point.chainage_m, point]));
  for (const point of line.profile) {
    const known = heights.get(point.chainage_m);
    heights.set(point.chainage_m, known ? overlay(known, point) : point);
  }
  return sameMembers(before, [...heights.values()]);
}

/** A position as the table has it, with what the table does not say kept, but never another place's text. */
function overlayPosition(before: Position, after: Position): Position {
  if (before.x === after.x && before.y === after.y && before.crs === after.crs) return overlay(before, after);
  const { as_entered: _, ...rest } = before;
  return { ...rest, ...after };
}

/** The same object where nothing that is given differs. */
function overlay<T extends object>(before: T, given: Partial<T>): T {
  for (const key of Object.keys(given) as (keyof T)[]) {
    if (!isSame(before[key], given[key])) return { ...before, ...given };
  }
  return before;
}

const sameMembers = <T>(before: readonly T[], after: readonly T[]): readonly T[] =>
  before.length === after.length && after.every((member, i) => member === before[i]) ? before : after;

function keepOrder<T extends { readonly role: string }>(before: readonly T[], after: readonly T[]): readonly T[] {
  const place = (member: T): number => {
    const index = before.findIndex((candidate) => candidate.role === member.role);
    return index < 0 ? before.length : index;
  };
  return sameMembers(
    before,
    [...after].sort((p, q) => place(p) - place(q)),
  );
}

/** Equality of JSON values; a missing key and null are not the same. */
function isSame(p: unknown, q: unknown): boolean {
  if (p === q) return true;
  if (typeof p !== 'object' || typeof q !== 'object' || p === null || q === null) return false;
  if (Array.isArray(p) || Array.isArray(q)) {
    return Array.isArray(p) && Array.isArray(q) && p.length === q.length && p.every((item, i) => isSame(item, q[i]));
  }
  const keys = Object.keys(p);
  return (
    keys.length === Object.keys(q).length &&
    keys.every((key) => key in q && isSame((p as Record<string, unknown>)[key], (q as Record<string, unknown>)[key]))
  );
}
