import type { Change } from '../survey/commit';
import type { EntryKind } from '../survey/history';
import { type Database, STRICT } from './database';
import { NotKeptHere, WrittenElsewhere } from './failures';
import { type EntryRow, makeEntry } from './rows';

export interface Appending {
  readonly change: Change;
  readonly kind: EntryKind;
  /** The last entry that the writer knows. */
  readonly after: number | undefined;
  readonly writer: string;
  readonly at: string;
}

/**
 * Writes a change behind the last one, and gives its row. Where it stands there already, since its first writing ended
 * uncertainly, that row is given. Fails with `NotKeptHere` or `WrittenElsewhere`, and writes nothing then.
 */
export async function append(
  database: Database,
  key: string,
  { change, kind, after, writer, at }: Appending,
): Promise<EntryRow> {
  const transaction = database.transaction(['heads', 'journal'], 'readwrite', STRICT);
  // Heard here, so that a failure before it is awaited does not count as unheard.
  transaction.done.catch(() => undefined);
  const [heads, journal] = [transaction.objectStore('heads'), transaction.objectStore('journal')];
  const head = await heads.get(key);
  if (!head) throw new NotKeptHere();
  if (after !== undefined && head.seq !== after) {
    const next = await journal.get([key, after + 1]);
    const isOwn = next?.writer === writer && next.kind === kind && next.text === JSON.stringify(change);
    if (isOwn && head.seq === after + 1) return next;
    throw new WrittenElsewhere();
  }
  const entry = makeEntry({ of: key, seq: head.seq + 1, at, kind, writer }, change);
  const changed = { ...head, name: change.site?.name ?? head.name, seq: entry.seq, changed_at: at };
  await Promise.all([journal.add(entry), heads.put(changed), transaction.done]);
  return entry;
}
