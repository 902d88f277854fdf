import { emptySurvey } from '../survey/empty-survey';
import type { EditHistory } from '../survey/history';
import type { Survey } from '../survey/survey';
import { behind, type Database, STRICT } from './database';
import { type Damage, type Rebuilt, rebuild } from './rebuild';
import { restore } from './restore';
import { type HeadRow, surveyIn } from './rows';
import type { SecondCopy } from './second-copy';
import { setAside } from './set-aside';

/** A survey as kept, with all its changes. Two copies of one survey have keys of their own, so neither is lost. */
export interface Kept {
  readonly key: string;
  readonly survey: Survey;
  /** What can be taken back, from the journal. */
  readonly history: EditHistory;
  /** The number of its last entry. */
  readonly seq: number;
  /** What was found damaged for the first time at this reading. Copies of it are in quarantine. */
  readonly damage: readonly Damage[];
  /** The browser had lost it, in whole or in part; what is here comes from the second copy. */
  readonly restored: boolean;
}

/**
 * A survey as kept: from the newest base that is whole, and the journal behind it. Damage is copied into quarantine, and
 * replaced from the second copy where that is better. Null where there is no such survey.
 */
export async function readKept(
  database: Database,
  key: string,
  at: string,
  secondCopy: SecondCopy | null,
): Promise<Kept | null> {
  let built = await build(database, key, at);
  if (!built) return null;
  let { damage } = built;
  const isBehind = secondCopy !== null && ((await secondCopy.lastSeq(key)) ?? 0) > built.seq;
  let restored = false;
  if (secondCopy && (damage.length > 0 || isBehind)) {
    restored = (await restore(database, key, await secondCopy.read(key))) > 0;
    const again = restored ? await build(database, key, at) : null;
    if (again) {
      const left = new Set(again.damage.map(({ what, seq }) => `${what} ${seq}`));
      damage = damage.map((each) => (left.has(`${each.what} ${each.seq}`) ? each : { ...each, replaced: true }));
      built = again;
    }
  }
  const fresh = await setAside(database, key, damage, at);
  const { survey, history, seq } = built;
  return { key, survey, history, seq, damage: fresh, restored };
}

async function build(database: Database, key: string, at: string): Promise<Rebuilt | null> {
  const transaction = database.transaction(['heads', 'bases', 'journal']);
  const head = await transaction.objectStore('heads').get(key);
  const damage: Damage[] = [];
  let from: { readonly survey: Survey; readonly seq: number } | null = null;
  const bases = transaction.objectStore('bases');
  let cursor = await bases.openCursor(behind(key, -1), 'prev');
  while (cursor && !from) {
    const read = surveyIn(cursor.value);
    const [, seq] = cursor.primaryKey;
    if (read.ok) from = { survey: read.value, seq };
    else damage.push({ what: 'survey', seq, count: 1, reason: read.sentence, raw: cursor.value });
    cursor = from ? null : await cursor.continue();
  }
  const rows = await transaction.objectStore('journal').getAll(behind(key, from?.seq ?? 0));
  await transaction.done;
  if (!head && !from && rows.length === 0 && damage.length === 0) return null;
  const toSeq = typeof head?.seq === 'number' ? head.seq : 0;
  // Without any base: what the changes themselves hold is more than nothing.
  const first = rows[0]?.seq ?? 1;
  const base = from ?? { survey: emptySurvey(key, nameOf(head)), seq: first - 1 };
  const built = rebuild(base.survey, base.seq, rows, toSeq);
  if (!from && damage.length === 0) {
    damage.push({ what: 'survey', seq: 0, count: 1, reason: 'not there any more', raw: null });
  }
  if (!head) await mendHead(database, { key, survey: built.survey, seq: built.seq, baseSeq: base.seq, at });
  const bad = damage.map((each) => (from ? { ...each, replaced: true } : each));
  return { ...built, damage: [...bad, ...built.damage] };
}

const NAMELESS = 'A survey';
export const nameOf = (head: HeadRow | undefined): string => (typeof head?.name === 'string' ? head.name : NAMELESS);

/** Surveys that the second copy has and the database has not. Gives the one of them that was changed last. */
export async function restoreLost(database: Database, secondCopy: SecondCopy): Promise<string | null> {
  const copied = await secondCopy.keys();
  const there = new Set(await database.getAllKeys('heads'));
  let last: HeadRow | null = null;
  for (const key of copied.filter((each) => !there.has(each))) {
    if ((await restore(database, key, await secondCopy.read(key))) === 0) continue;
    const head = await database.get('heads', key);
    if (head && (head.changed_at ?? '') >= (last?.changed_at ?? '')) last = head;
  }
  return last?.key ?? null;
}

interface Mended {
  readonly key: string;
  readonly survey: Survey;
  readonly seq: number;
  readonly baseSeq: number;
  readonly at: string;
}

async function mendHead(database: Database, { key, survey, seq, baseSeq, at }: Mended): Promise<void> {
  const head = { key, name: survey.site.name, kept_at: null, changed_at: at, archived_at: null };
  const transaction = database.transaction('heads', 'readwrite', STRICT);
  if (!(await transaction.store.get(key))) await transaction.store.add({ ...head, seq, base_seq: baseSeq });
  await transaction.done;
}
