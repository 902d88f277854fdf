import { type Database, STRICT } from './database';
import type { Damage } from './rebuild';
import type { SetAsideRow } from './rows';

/** Copies damage into quarantine, once. Gives what had not been found before. */
export async function setAside(
  database: Database,
  of: string,
  damage: readonly Damage[],
  at: string,
): Promise<readonly Damage[]> {
  if (damage.length === 0) return [];
  const transaction = database.transaction('quarantine', 'readwrite', STRICT);
  const fresh: Damage[] = [];
  for (const found of damage) {
    const { what, seq } = found;
    if ((await transaction.store.getKey([of, what, seq])) !== undefined) continue;
    fresh.push(found);
    await transaction.store.add({ of, found_at: at, ...found });
  }
  await transaction.done;
  return fresh;
}

/** What was set aside, as text for a file. */
export const setAsideText = (rows: readonly SetAsideRow[]): string => `${JSON.stringify(rows, null, 1)}\n`;
