import { type Database, STRICT } from './database';
import { type BaseRow, changeIn, type EntryRow, surveyIn } from './rows';

/**
 * Puts what the second copy holds of a survey back into the database: what is whole, and not there or damaged there.
 * Gives how many rows that were.
 */
export async function restore(database: Database, key: string, rows: readonly unknown[]): Promise<number> {
  const own = rows.filter((row) => (row as BaseRow | null)?.of === key) as (BaseRow | EntryRow)[];
  const bases = new Map<number, BaseRow>();
  const entries = new Map<number, EntryRow>();
  let name: string | null = null;
  for (const row of own) {
    if ('kind' in row) {
      const entry = changeIn(row);
      if (!entry.ok) continue;
      entries.set(row.seq, row);
      name = entry.value.change.site?.name ?? name;
      continue;
    }
    const survey = surveyIn(row);
    if (!survey.ok) continue;
    bases.set(row.seq, row);
    name = survey.value.site.name;
  }
  if (bases.size + entries.size === 0) return 0;
  const transaction = database.transaction(['heads', 'bases', 'journal'], 'readwrite', STRICT);
  transaction.done.catch(() => undefined);
  const journal = transaction.objectStore('journal');
  const kept = transaction.objectStore('bases');
  let restored = 0;
  for (const [seq, row] of bases) {
    const there = await kept.get([key, seq]);
    if (there && surveyIn(there).ok) continue;
    restored += 1;
    await kept.put(row);
  }
  for (const [seq, row] of entries) {
    const there = await journal.get([key, seq]);
    if (there && changeIn(there).ok) continue;
    restored += 1;
    await journal.put(row);
  }
  const heads = transaction.objectStore('heads');
  const head = await heads.get(key);
  const seq = Math.max(head?.seq ?? 0, ...bases.keys(), ...entries.keys());
  if (!head || head.seq !== seq) {
    const at = [...entries.values(), ...bases.values()].reduce((last, row) => (row.at > last ? row.at : last), '');
    const made = { key, name: name ?? 'A survey', kept_at: bases.get(0)?.at ?? null, archived_at: null, ...head };
    await heads.put({ ...made, changed_at: at, seq, base_seq: Math.max(0, ...bases.keys()) });
  }
  await transaction.done;
  return restored;
}
