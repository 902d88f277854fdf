import type { FeatureType } from '../survey/feature-type';

/** What a type means, in our words, and where the trade defines it. */
export interface Definition {
  readonly label: string;
  readonly meaning: string;
  readonly source: string;
}

const LEXICON = 'EPA/600/R-02/003, A Lexicon of Cave and Karst Terminology (2002)';
const GLOSSARY = 'USGS Water-Supply Paper 1899-K, Glossary of Karst Terminology (1970)';
const BOTH = `${LEXICON}; ${GLOSSARY}`;
/** The term stands in both; what it means was written down from memory and not held against their text. */
const FROM_MEMORY = `${BOTH} (meaning from memory)`;
const KINDS = 'the kinds of sinkhole in common use; the terms after USGS Fact Sheet 2007-3060 (value from memory)';

/** Every type with its meaning, in our words. Where no published definition is named, the entry says that the wording is ours. */
export const DEFINITIONS: Readonly<Record<FeatureType, Definition>> = {
  sinkhole_solution: {
    label: 'Sinkhole, by solution',
    meaning: 'A closed hollow in the ground where bare or thinly covered rock was dissolved from above.',
    source: `${BOTH}; ${KINDS}`,
  },
  sinkhole_cover_collapse: {
    label: 'Sinkhole, by collapse of cover',
    meaning: 'A hollow that opened suddenly when soil or sediment fell into a void below it.',
    source: `${BOTH}; ${KINDS}`,
  },
  sinkhole_cover_subsidence: {
    label: 'Sinkhole, by subsidence of cover',
    meaning: 'A hollow that forms slowly as loose cover is carried down into openings of the rock.',
    source: `${BOTH}; ${KINDS}`,
  },
  sinkhole_unknown: {
    label: 'Sinkhole (doline), kind unknown',
    meaning: 'A closed hollow of karst that drains underground; how it came about has not been said.',
    source: BOTH,
  },
  depression_unverified: {
    label: 'Depression, unverified',
    meaning: 'A closed hollow on a map, a picture or a height model that nobody has looked at as karst.',
    source: 'our wording; common practice of inventories, no source',
  },
  cave_entrance: {
    label: 'Cave entrance',
    meaning: 'An opening by which a natural void in rock can be reached from the surface.',
    source: BOTH,
  },
  shaft: {
    label: 'Shaft (pothole, pit)',
    meaning: 'A natural opening in rock that goes down steeply or straight.',
    source: BOTH,
  },
  swallow_hole: {
    label: 'Swallow hole (ponor, swallet)',
    meaning: 'A place where a stream, or water of a closed basin, goes underground.',
    source: BOTH,
  },
  sinking_stream: {
    label: 'Sinking stream',
    meaning: 'A stream that loses all of its water underground, at one place or over a stretch.',
    source: BOTH,
  },
  losing_reach: {
    label: 'Losing reach',
    meaning: 'A stretch of a stream that gives part of its water to the ground.',
    source: 'our wording; common practice of hydrology, no source',
  },
  spring: {
    label: 'Spring (resurgence)',
    meaning: 'A place where underground water comes out at the surface.',
    source: BOTH,
  },
  estavelle: {
    label: 'Estavelle',
    meaning:
      'An opening that takes water in at one time and gives it out at another, with the height of the groundwater.',
    source: FROM_MEMORY,
  },
  karst_window: {
    label: 'Karst window',
    meaning: 'A hollow on whose floor an underground stream is seen between two stretches below ground.',
    source: FROM_MEMORY,
  },
  dry_valley: {
    label: 'Dry valley',
    meaning: 'A valley of a former stream whose water now goes underground.',
    source: FROM_MEMORY,
  },
  subsidence_damage: {
    label: 'Subsidence damage',
    meaning: 'Damage to a building, road or other work by ground that gave way, whatever gave way.',
    source:
      'our wording; damage to works is one of the five kinds of the national karst database of the British Geological Survey',
  },
  geophysical_anomaly: {
    label: 'Geophysical anomaly, unverified',
    meaning: 'Readings that ordinary ground does not explain. Nobody has seen what is there.',
    source: 'our wording; choice',
  },
};

/** Types that are left out of density, neighbours and setbacks unless asked for. */
export const UNVERIFIED_TYPES: readonly FeatureType[] = ['depression_unverified', 'geophysical_anomaly'];
