import { HOOKUPS, type Hookup } from '../../survey/hookup';
import { READING_STATUS, WETTINGS, type Wetting } from '../../survey/survey';
import { READING_UNITS, type ReadingUnit } from '../../survey/units';

/*
 * The words that may stand in cells. Every lookup is blind to case, spaces and punctuation.
 */

/** Longest text that is looked at for a word, a number or a header: patterns and distances cost more than their length. */
export const LONGEST_WORD = 100;

/** Letters and digits only, lower case, Greek omega and rho spelt: what counts of a header or a word for matching. */
export function bareKey(text: string): string {
  return text
    .replace(/[\u03a9\u2126\u03c9]/g, 'ohm')
    .replace(/\u03c1/g, 'rho')
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');
}

function lookup<T extends string>(own: readonly T[], others: Readonly<Partial<Record<T, readonly string[]>>>) {
  const words = new Map<string, T>();
  for (const code of own) {
    for (const word of [code, ...(others[code] ?? [])]) words.set(bareKey(word), code);
  }
  const exact = new Map<string, T | undefined>(own.map((code) => [code, words.get(bareKey(code))]));
  return (text: string): T | null =>
    text.length > LONGEST_WORD ? null : (exact.get(text) ?? words.get(bareKey(text)) ?? null);
}

/**
 * The unit of a shown value; null for an unknown one.
 * Ω·cm and Ω·ft are not taken: the value is kept as shown, and the record has no such unit. `mohm` is not either: it may
 * be a thousandth or a million.
 */
export const readUnit: (text: string) => ReadingUnit | null = lookup(READING_UNITS, {
  ohm_m: ['ohm meter', 'ohm meters', 'ohm metre', 'ohm metres'],
  kohm_m: ['kiloohm m', 'kohm meter', 'kohm metre'],
  ohm: ['ohms'],
  kohm: ['kohms', 'kiloohm', 'kiloohms'],
  mV: ['millivolt', 'millivolts'],
});

/** The hookup that a cell names; null for an unknown word. */
export const readHookup: (text: string) => Hookup | null = lookup(HOOKUPS, {
  two_probe: ['2 probe', 'two probes', '2 probes', 'two point', '2 point', 'two rod', '2 rod', 'two electrode'],
  pole_pole: ['pp', 'polepole'],
  wenner_alpha: ['wenner', 'wenner a', 'w'],
  wenner_beta: ['wenner b'],
  wenner_gamma: ['wenner c', 'wenner g'],
  schlumberger: ['s', 'slb'],
  dipole_dipole: ['dd', 'dipdip'],
  pole_dipole: ['pd', 'poldip'],
  four_electrode: ['4 electrode', 'four electrodes', '4 electrodes', 'general'],
  unknown: ['not known', 'not said'],
});

export const readStatus: (text: string) => (typeof READING_STATUS)[number] | null = lookup(READING_STATUS, {
  ok: ['good', 'valid', 'accepted'],
  over_range: ['over', 'ol', 'o l', 'overload', 'out of range', 'off scale', 'overflow'],
  rejected: ['reject', 'bad', 'invalid', 'discarded'],
});

export const readWetting: (text: string) => Wetting | null = lookup(WETTINGS, {
  none: ['dry', 'no', 'not wetted'],
  water: ['wet', 'yes', 'fresh water', 'plain water'],
  salt_water: ['salt', 'brine', 'saline', 'salted water'],
});

const YES = new Set(['yes', 'y', 'true', 't', '1', 'x', 'ja', 'oui', 'si', 'sí']);
const NO = new Set(['no', 'n', 'false', 'f', '0', 'nein', 'non']);

/** Yes or no; null for any other word. */
export function readYesNo(text: string): boolean | null {
  const word = text.slice(0, LONGEST_WORD).trim().toLowerCase();
  return YES.has(word) ? true : NO.has(word) ? false : null;
}

/** Role of a remote electrode: its letter, or the current and potential numbering C1 C2 P1 P2. */
export const readRole: (text: string) => 'A' | 'B' | 'M' | 'N' | null = lookup(['A', 'B', 'M', 'N'] as const, {
  A: ['C1'],
  B: ['C2'],
  M: ['P1'],
  N: ['P2'],
});

export const readBearingReference: (text: string) => 'true' | 'magnetic' | 'grid' | null = lookup(
  ['true', 'magnetic', 'grid'] as const,
  { true: ['true north', 'geographic'], magnetic: ['mag', 'magnetic north', 'compass'], grid: ['grid north'] },
);

export const FEATURE_STATUS = ['reported', 'field_checked', 'rejected'] as const;
export const readFeatureStatus: (text: string) => (typeof FEATURE_STATUS)[number] | null = lookup(FEATURE_STATUS, {
  reported: ['unverified', 'unchecked', 'not checked'],
  field_checked: ['checked', 'verified', 'confirmed'],
  rejected: ['false', 'not found'],
});

/** What a meter shows when the resistance is beyond it; a number behind `>` is its limit. */
const OVER_RANGE = /^(?:o[./]?l\.?|over(?:[ _-]?(?:range|load|flow))?|out[ _]of[ _]range|off[ _-]?scale)$/i;

/** Whether a value cell says over range. `limit` is the text behind a `>` sign, null without one; null = it does not. */
export function readOverRange(text: string): { readonly limit: string | null } | null {
  if (text.length > LONGEST_WORD) return null;
  if (OVER_RANGE.test(text)) return { limit: null };
  const beyond = /^(?:>=?|≥|over|above)\s*(?=[\d+.,])(.*)$/i.exec(text);
  return beyond ? { limit: (beyond[1] ?? '').trim() } : null;
}
