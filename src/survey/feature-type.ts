/*
 * Types of karst features, and the words by which tables and people call them. What each means is said, with its
 * source, in `karst/definitions.ts`.
 */

export const FEATURE_TYPES = [
  'sinkhole_solution',
  'sinkhole_cover_collapse',
  'sinkhole_cover_subsidence',
  'sinkhole_unknown',
  'depression_unverified',
  'cave_entrance',
  'shaft',
  'swallow_hole',
  'sinking_stream',
  'losing_reach',
  'spring',
  'estavelle',
  'karst_window',
  'dry_valley',
  'subsidence_damage',
  'geophysical_anomaly',
] as const;
export type FeatureType = (typeof FEATURE_TYPES)[number];

/** Words beside the codes; "sinkhole" without a kind is one of unknown kind, whatever the language. */
const WORDS: Readonly<Record<FeatureType, readonly string[]>> = {
  sinkhole_solution: ['solution sinkhole', 'solution doline', 'dissolution sinkhole'],
  sinkhole_cover_collapse: ['cover collapse sinkhole', 'cover collapse', 'collapse sinkhole', 'collapse doline'],
  sinkhole_cover_subsidence: [
    'cover subsidence sinkhole',
    'cover subsidence',
    'subsidence sinkhole',
    'suffosion doline',
  ],
  sinkhole_unknown: [
    ...['sinkhole', 'sinkholes', 'sink hole', 'doline', 'dolines', 'dolina', 'doliny', 'erdfall', 'dolina kraska'],
    ...[
      'doline karstique',
      'dolina kárstica',
      'воронка',
      'карстовая воронка',
      'провал',
      'карстовый провал',
      '落水洞',
      '漏斗',
    ],
  ],
  depression_unverified: ['depression', 'closed depression', 'surface depression', 'unverified depression', 'kettle'],
  cave_entrance: ['cave', 'cave mouth', 'entrance', 'cavern', 'höhle', 'grotte', 'cueva', 'пещера', '洞穴'],
  shaft: ['pit', 'pothole', 'natural shaft', 'aven', 'schacht', 'abîme', 'sima'],
  swallow_hole: ['swallow hole', 'swallet', 'ponor', 'ponors', 'stream sink', 'swallowhole', 'schwinde', 'понор'],
  sinking_stream: ['sinking creek', 'lost stream', 'disappearing stream'],
  losing_reach: ['losing stream', 'losing stream reach'],
  spring: [
    'springs',
    'karst spring',
    'resurgence',
    'exsurgence',
    'rise',
    'seep',
    'quelle',
    'source karstique',
    'manantial',
    'родник',
    'источник',
    '泉',
  ],
  estavelle: ['estavella', 'inversac'],
  karst_window: ['window', 'karst fenster'],
  dry_valley: ['blind valley', 'trockental'],
  subsidence_damage: ['subsidence', 'damage', 'damage to works', 'building damage'],
  geophysical_anomaly: ['anomaly', 'resistivity anomaly', 'geophysics'],
};

const bare = (text: string): string =>
  text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');

const BY_WORD = new Map<string, FeatureType>(
  FEATURE_TYPES.flatMap((type) => [type, ...WORDS[type]].map((word) => [bare(word), type] as const)),
);
/** A type is no longer than this; a description is looked at by its first words. */
const LONGEST_WORDS = 4;
const LONGEST_TEXT = 200;
const known = new Map<string, FeatureType | null>();

/** The type that a word names, blind to case and punctuation; null for a word that is not known here. */
export function featureTypeOf(text: string): FeatureType | null {
  const short = text.slice(0, LONGEST_TEXT);
  let type = known.get(short);
  if (type === undefined) {
    type = BY_WORD.get(bare(short)) ?? null;
    if (known.size < 10_000) known.set(short, type);
  }
  return type;
}

/** The type that a description begins with, such as "Doline, 30 m wide": its longest known beginning. */
export function featureTypeAtStartOf(text: string): FeatureType | null {
  const words = text
    .slice(0, LONGEST_TEXT)
    .trim()
    .split(/[\s,.;:()]+/);
  for (let count = Math.min(LONGEST_WORDS, words.length); count > 0; count -= 1) {
    const type = BY_WORD.get(bare(words.slice(0, count).join(' ')));
    if (type) return type;
  }
  return null;
}
