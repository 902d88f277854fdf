import type { Reading, Settlement, Wetting } from '../../survey/survey';

const STATUS: Record<Reading['status'], string> = { ok: 'counts', over_range: 'over range', rejected: 'rejected' };
export const statusWords = (status: Reading['status']): string => STATUS[status];

export const WETTING_WORDS: Record<Wetting, string> = { none: 'dry', water: 'water', salt_water: 'salt water' };

export const DECISION_WORDS: Record<Settlement['decision'], string> = {
  explained: 'explained',
  accepted: 'accepted as it is',
  rejected: 'not a real doubt',
};

const plain = (value: number): string => String(Number(value.toPrecision(12)));

/** What the meter showed, without its unit: "485", "> 19990", "over range". */
export function shownValueWords({ value, limit, status }: Pick<Reading, 'value' | 'limit' | 'status'>): string {
  if (value !== null) return plain(value);
  if (limit !== null && limit !== undefined) return `> ${plain(limit)}`;
  return status === 'over_range' ? 'over range' : '–';
}
