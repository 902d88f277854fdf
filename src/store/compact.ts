import { commit } from '../survey/commit';
import { MOST_UNDONE } from '../survey/history';
import type { Survey } from '../survey/survey';
import { type Database, STRICT } from './database';
import { changeIn, type HeadRow, makeBase, surveyIn } from './rows';

/**
 * Writes a new base, so that opening stays quick however many changes there were. It lies so far back that all that can
 * be undone is still in the journal. The base before it stays, with the journal behind it: should the new one be damaged,
 * nothing is lost. What is older goes. All in one transaction: one that breaks off changes nothing.
 * Gives whether a base was written.
 */
export async function compact(database: Database, key: string, at: string): Promise<boolean> {
  const head = await database.get('heads', key);
  if (!head) return false;
  const toSeq = head.seq - MOST_UNDONE;
  const [used, next] = (await newBase(database, head, toSeq)) ?? [];
  if (used === undefined || next === undefined) return false;
  const row = makeBase(key, toSeq, at, next);

  const transaction = database.transaction(['heads', 'bases', 'journal'], 'readwrite', STRICT);
  transaction.done.catch(() => undefined);
  const heads = transaction.objectStore('heads');
  const bases = transaction.objectStore('bases');
  const journal = transaction.objectStore('journal');
  const now = await heads.get(key);
  if (!now || (await bases.getKey([key, used])) === undefined) return false;
  const older = IDBKeyRange.bound([key, -1], [key, used], false, true);
  await Promise.all([
    bases.put(row),
    bases.delete(older),
    journal.delete(IDBKeyRange.bound([key, -1], [key, used])),
    heads.put({ ...now, base_seq: toSeq }),
    transaction.done,
  ]);
  return true;
}

/** The number of the newest base, and the survey at `toSeq`; null where there is nothing to do, or something is damaged. */
async function newBase(database: Database, { key }: HeadRow, toSeq: number): Promise<readonly [number, Survey] | null> {
  const seqs = (await database.getAllKeys('bases', IDBKeyRange.bound([key, -1], [key, Infinity]))).map(
    ([, seq]) => seq,
  );
  const used = seqs.at(-1);
  if (used === undefined || toSeq <= used) return null;
  const base = surveyIn(await database.get('bases', [key, used]));
  const rows = await database.getAll('journal', IDBKeyRange.bound([key, used + 1], [key, toSeq]));
  // Damage is not built upon: the journal stays as it is, and grows.
  if (!base.ok || rows.length !== toSeq - used) return null;
  let survey = base.value;
  for (const row of rows) {
    const read = changeIn(row);
    if (!read.ok) return null;
    survey = commit(survey, read.value.change).survey;
  }
  return [used, survey];
}
