import { type Change, type Collection, commit } from './commit';
import type { Author } from './edits';
import { beside, mayKeepBoth } from './merge-both';
import { contentDigest, contentText, differingKeys, saysAllOf, supplanted, withSupplanted } from './merge-content';
import { matched, naturalKey } from './merge-keys';
import { remapped } from './merge-remap';
import { done, type Outcome, refuse } from './outcome';
import type { Line, Revised, Site, Survey } from './survey';

/*
 * A colleague's part of a survey brought into one's own. Nothing is overwritten: what only one of the two changed is
 * taken from that one; what both changed, or what the two wrote down apart from each other, is asked.
 */

type Member = Survey[Collection][number];
export type MergeChoice = 'mine' | 'theirs' | 'both';

export interface MergeOptions {
  /** Answered "yes, the same ground" where the two are not copies of one survey. */
  readonly sameSite?: boolean;
  /** By the conflict's id. What is not answered stays as mine has it, and stays asked. */
  readonly choices?: Readonly<Record<string, MergeChoice>>;
  /** Who answers, and when. */
  readonly author?: Author;
}

export interface Taken {
  readonly collection: Collection | 'site';
  /** In the joined survey. */
  readonly id: string;
  /** `new`: only they have it; `newer`: theirs came after mine; `fuller`: says all that mine does, and more. */
  readonly how: 'new' | 'newer' | 'fuller';
}

export interface MergeConflict {
  readonly id: string;
  readonly collection: Collection | 'site';
  readonly mine: Member | Site;
  /** As they have it, with the joined survey's ids of the lines, outings and readings that it speaks of. */
  readonly theirs: Member | Site;
  readonly differs: readonly string[];
  readonly mayKeepBoth: boolean;
  readonly choice: MergeChoice | null;
}

export interface MergedSurveys {
  readonly survey: Survey;
  /** From mine to the joined survey: one edit, which can be undone. */
  readonly change: Change;
  readonly taken: readonly Taken[];
  /** How many of theirs mine has already, as they are or in a later version. */
  readonly same: number;
  readonly conflicts: readonly MergeConflict[];
}

/** Whether two are copies of one survey, or lie on a site with one id. */
export const isSameSite = (mine: Survey, theirs: Survey): boolean =>
  mine.id === theirs.id || mine.site.id === theirs.site.id;

/** Collections in an order in which each speaks only of those before it. */
const ORDER = [
  'outings',
  'lines',
  'readings',
  'references',
  'surroundings',
  'features',
  'photos',
  'settlements',
] as const;

/**
 * Joins two copies of a survey. Entities are the same by id, or by what names them (a line by its name, an outing by name
 * and date, a reading by line, outing, midpoint, spacing, hookup, repeat and time). Which version came later is told by
 * how often each was changed, where one was never changed, and by what a person decided before. Joining again changes
 * nothing; which side is mine decides only whose ids are kept and what stands until a conflict is answered.
 * Refuses `other_site` unless told that it is the same ground.
 */
export function mergeSurveys(mine: Survey, theirs: Survey, options: MergeOptions = {}): Outcome<MergedSurveys> {
  if (!isSameSite(mine, theirs) && options.sameSite !== true) {
    return refuse(
      'other_site',
      `This is a survey of “${theirs.site.name}”, begun apart from “${mine.site.name}”. Say first that it is the same ground.`,
    );
  }
  const merge = new Merging(mine, options);
  merge.site(theirs.site);
  for (const collection of ORDER) merge.collection(collection, theirs);
  const { change, taken, same, conflicts } = merge;
  return done({ survey: commit(mine, change).survey, change, taken, same, conflicts });
}

type Standing = 'same' | 'mine' | 'newer' | 'fuller' | 'asked';

/** Which of two versions stands. `apart`: they were given ids apart from each other, so neither can be the other's origin. */
function standing(mine: Member | Site, theirs: Member | Site, apart: boolean): Standing {
  if (contentText(mine) === contentText(theirs)) return 'same';
  const mineCameAfter = supplanted(mine.revised).includes(contentDigest(theirs));
  const theirsCameAfter = supplanted(theirs.revised).includes(contentDigest(mine));
  if (mineCameAfter !== theirsCameAfter) return mineCameAfter ? 'mine' : 'newer';
  if (apart) {
    if (saysAllOf(mine, theirs)) return 'mine';
    return saysAllOf(theirs, mine) ? 'fuller' : 'asked';
  }
  if (mine.revised.count === 0 && theirs.revised.count > 0) return 'newer';
  return theirs.revised.count === 0 && mine.revised.count > 0 ? 'mine' : 'asked';
}

/** The joining under way. */
class Merging {
  readonly taken: Taken[] = [];
  readonly conflicts: MergeConflict[] = [];
  same = 0;
  private readonly ids = new Map<string, string>();
  private readonly put = new Map<Collection, Member[]>();
  private newSite: Site | null = null;

  constructor(
    private readonly mine: Survey,
    private readonly options: MergeOptions,
  ) {}

  get change(): Change {
    const put = Object.fromEntries([...this.put].filter(([, members]) => members.length > 0)) as Change['put'];
    return { label: 'Bring in a colleague’s part', ...(this.newSite ? { site: this.newSite } : {}), put };
  }

  site(theirs: Site): void {
    const { site: mine } = this.mine;
    const own: Site = { ...theirs, id: mine.id };
    const apart = theirs.id !== mine.id;
    const chosen = this.stands('site', mine, own, apart);
    const base: Site = chosen === null ? mine : ({ ...chosen, id: mine.id } as Site);
    // Positions are told in a grid by its name, so none may be left behind.
    const known = new Set(base.local_grids.map(({ name }) => name));
    const grids = [...mine.local_grids, ...theirs.local_grids].filter(({ name }) => {
      const isNew = !known.has(name);
      known.add(name);
      return isNew;
    });
    const site = grids.length > 0 ? { ...base, local_grids: [...base.local_grids, ...grids] } : base;
    if (site !== mine) this.newSite = site;
  }

  collection<C extends Collection>(collection: C, survey: Survey): void {
    const mine = this.mine[collection] as readonly Survey[C][number][];
    const raw = survey[collection] as readonly Survey[C][number][];
    const known = raw.map((entity) => remapped(collection, entity, this.ids));
    const { pairs, fresh } = matched<Member>(mine, known, (entity) =>
      naturalKey(collection, entity as Survey[C][number]),
    );
    // Before anything is compared, since lines speak of lines and features of features.
    for (const pair of pairs) {
      if (pair.mine.id !== pair.theirs.id) this.ids.set(pair.theirs.id, pair.mine.id);
    }
    const put: Member[] = [];
    this.put.set(collection, put);
    for (const pair of pairs) {
      const { mine: own } = pair;
      const other = remapped(collection, pair.theirs as Survey[C][number], this.ids) as Member;
      const apart = own.id !== other.id;
      const chosen = this.stands(collection, own, other, apart);
      if (chosen === null) continue;
      if (chosen !== 'both') {
        put.push({ ...chosen, id: own.id } as Member);
        continue;
      }
      const [first, second] = beside(collection, own, other, apart, (name) => this.isNameFree(name, survey));
      put.push(this.decided(own, other, first));
      if (second) put.push(second);
      if (apart) this.ids.delete(other.id);
    }
    for (const entity of fresh) {
      put.push(remapped(collection, entity as Survey[C][number], this.ids));
      this.taken.push({ collection, id: entity.id, how: 'new' });
    }
  }

  /** What has to be put in the place of mine; null = mine stays as it is. */
  private stands(collection: 'site', mine: Site, theirs: Site, apart: boolean): Site | null;
  private stands(collection: Collection, mine: Member, theirs: Member, apart: boolean): Member | 'both' | null;
  private stands(
    collection: Collection | 'site',
    mine: Member | Site,
    theirs: Member | Site,
    apart: boolean,
  ): Member | Site | 'both' | null {
    const verdict = standing(mine, theirs, apart);
    if (verdict === 'same' || verdict === 'mine') {
      this.same += 1;
      const later = verdict === 'same' ? laterOf(mine.revised, theirs.revised) : mine.revised;
      const joined = { ...mine, revised: withBothPasts(later, mine, theirs) };
      return joined.revised === mine.revised ? null : joined;
    }
    if (verdict !== 'asked') {
      this.taken.push({ collection, id: mine.id, how: verdict });
      return { ...theirs, revised: withBothPasts(theirs.revised, mine, theirs) };
    }
    const id = `${collection}/${mine.id}`;
    const both = mayKeepBoth(collection, apart);
    const asked = this.options.choices?.[id] ?? null;
    const choice = asked === 'both' && !both ? null : asked;
    this.conflicts.push({
      id,
      collection,
      mine,
      theirs,
      differs: differingKeys(mine, theirs),
      mayKeepBoth: both,
      choice,
    });
    if (choice === null || choice === 'both') return choice;
    return this.decided(mine, theirs, choice === 'mine' ? mine : theirs);
  }

  /** A version that a person decided on: it comes after both. */
  private decided<T extends Member | Site>(mine: T, theirs: T, chosen: T): T {
    const { author } = this.options;
    const own = contentDigest(chosen);
    const over = [mine, theirs].flatMap((version) => [...supplanted(version.revised), contentDigest(version)]);
    const revised = {
      ...chosen.revised,
      ...(author ? { at: author.at, by: author.by } : {}),
      count: Math.max(mine.revised.count, theirs.revised.count) + 1,
    };
    return {
      ...chosen,
      revised: withSupplanted(
        revised,
        over.filter((digest) => digest !== own),
      ),
    };
  }

  private isNameFree(name: string, theirs: Survey): boolean {
    const lines = [...this.mine.lines, ...theirs.lines, ...((this.put.get('lines') ?? []) as readonly Line[])];
    return lines.every((line) => line.name !== name);
  }
}

/** Of two that say the same: the one changed more often, then later, then by the greater name. */
function laterOf(mine: Revised, theirs: Revised): Revised {
  const ranks = ({ count, at, by }: Revised) => [count, at ?? '', by ?? ''] as const;
  const [own, other] = [ranks(mine), ranks(theirs)];
  const at = own.findIndex((rank, i) => rank !== other[i]);
  return at >= 0 && (other[at] ?? '') > (own[at] ?? '') ? theirs : mine;
}

/** The same object where it knows of all that either was decided over. */
function withBothPasts(revised: Revised, mine: Member | Site, theirs: Member | Site): Revised {
  const over = new Set([mine, theirs].flatMap((version) => supplanted(version.revised)));
  return over.size === supplanted(revised).length ? revised : withSupplanted(revised, [...over]);
}
