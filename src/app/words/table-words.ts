import type { TableKind } from '../../exchange/read/headers';

/** What a table holds, a row at a time. */
export const TABLE_WORDS: Record<TableKind, string> = {
  readings: 'readings of the meter',
  positions: 'places along lines',
  legs: 'tape and compass legs',
  remotes: 'remote electrodes',
  features: 'karst features',
};
