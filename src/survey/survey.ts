import * as z from 'zod/mini';
import { HOOKUPS } from './hookup';
import {
  featureId,
  lineId,
  outingId,
  pathItemId,
  photoId,
  readingId,
  referenceId,
  settlementId,
  siteId,
  surroundingId,
  surveyId,
} from './ids';
import { LENGTH_UNITS, READING_UNITS } from './units';

/*
 * The record, version 1. Objects are loose: keys that this version does not know survive a round trip.
 * Lengths are metres, angles degrees, times ISO 8601; a missing optional key means "not said".
 */

const text = z.string();
const finite = z.number();
/** Along a line: nobody tapes a hundred kilometres, and a slip of the columns should stop at the door. */
const alongM = z.number().check(z.gte(-100_000), z.lte(100_000));
const lengthM = z.number().check(z.positive(), z.lte(10_000));
const heightM = z.number().check(z.gte(-12_000), z.lte(12_000));
const MOST_PLANNED = 10_000;
const said = <T extends z.core.SomeType>(schema: T) => z.optional(z.nullable(schema));

/** Who last changed an entity and how often; `at` and `by` are null for rows first read from a table. */
export const revised = z.looseObject({
  at: z.nullable(text),
  by: z.nullable(text),
  count: z.int().check(z.nonnegative()),
});

/** Entities are retired, never deleted, so that copies of a survey can be merged. */
const entity = { revised, retired: z.optional(z.boolean()) };

/** A coordinate as entered. `crs` is `EPSG:n` (x east or longitude, y north or latitude) or `grid:NAME` of the site. */
export const position = z.looseObject({
  x: finite,
  y: finite,
  crs: text,
  as_entered: said(z.array(text)),
  epoch: said(finite),
  elevation_m: said(heightM),
  height_reference: said(z.enum(['ellipsoid', 'geoid', 'local', 'unknown'])),
  accuracy_m: said(finite.check(z.nonnegative(), z.lte(100_000))),
  /** The share of fixes that the accuracy radius holds: 68 or 95; absent = the device did not say. */
  accuracy_level: said(z.literal([68, 95])),
  hdop: said(finite),
  source: said(text),
  device: said(text),
  time: said(text),
});

/** A plane grid of the site's own: axes turned clockwise from true north by `bearing_deg`. */
export const localGrid = z.looseObject({
  name: text,
  unit: z.enum(LENGTH_UNITS),
  origin_lon: finite,
  origin_lat: finite,
  bearing_deg: finite,
});

const pathItemBase = { id: pathItemId, retired: z.optional(z.boolean()) };

export const fix = z.looseObject({
  ...pathItemBase,
  kind: z.literal('fix'),
  chainage_m: alongM,
  position,
  /** Whether the line turns here, where somebody said so. */
  corner: said(z.boolean()),
  /** Single fixes stay under their average. */
  singles: z.optional(z.array(position)),
});

export const pathItem = z.discriminatedUnion('kind', [
  fix,
  z.looseObject({
    ...pathItemBase,
    kind: z.literal('leg'),
    from_chainage_m: alongM,
    bearing_deg: finite,
    bearing_reference: z.enum(['true', 'magnetic', 'grid']),
    distance_m: finite.check(z.positive()),
    slope_deg: said(finite),
    date: said(text),
  }),
  z.looseObject({
    ...pathItemBase,
    kind: z.literal('offset'),
    chainage_m: alongM,
    base_line: lineId,
    base_chainage_m: alongM,
    /** Positive to the right of the base line's direction. */
    offset_right_m: alongM,
  }),
  z.looseObject({
    ...pathItemBase,
    kind: z.literal('two_tapes'),
    chainage_m: alongM,
    first: position,
    first_distance_m: finite.check(z.positive()),
    second: position,
    second_distance_m: finite.check(z.positive()),
    side: z.enum(['left', 'right']),
  }),
  z.looseObject({
    ...pathItemBase,
    kind: z.literal('bearing'),
    chainage_m: alongM,
    position,
    bearing_deg: finite,
    bearing_reference: z.enum(['true', 'magnetic', 'grid']),
    date: said(text),
  }),
]);

export const site = z.looseObject({
  id: siteId,
  revised,
  name: text,
  notes: said(text),
  time_zone: said(text),
  /** True for a made-up site: said on the map, in the report and in every share. */
  invented: z.optional(z.boolean()),
  settings: z.optional(z.looseObject({})),
  review_status: text,
  reviewer: said(text),
  review_date: said(text),
  setback_rules: z.array(z.looseObject({})),
  discretion_classes: z.array(z.looseObject({})),
  column_mappings: z.array(z.looseObject({})),
  local_grids: z.array(localGrid),
  /** What is remembered of shares that were made; never part of one. */
  shares: said(z.array(z.looseObject({}))),
});

export const remote = z.looseObject({
  role: z.enum(['B', 'N', 'A', 'M']),
  position,
});

export const WETTINGS = ['none', 'water', 'salt_water'] as const;

/** One day's work with one meter. */
export const outing = z.looseObject({
  id: outingId,
  ...entity,
  name: text,
  date: said(text),
  people: z.array(text),
  meter: said(
    z.looseObject({
      serial: said(text),
      /** What the meter multiplies by to show Ω·m: 2πa of its spacing setting, or the full factor of the hookup. */
      formula: said(z.enum(['two_pi_a', 'hookup'])),
      upper_limit: said(finite),
      upper_limit_unit: said(z.enum(READING_UNITS)),
      /** Stated relative error, e.g. 0.02. */
      stated_error: said(finite),
      test_resistor_ohm: said(finite),
      test_resistor_shown_ohm: said(finite),
    }),
  ),
  /** The unit that the meter is read in on this day. */
  unit: said(z.enum(READING_UNITS)),
  /** How the probes are wired on this day, unless a reading says otherwise. */
  hookup: said(z.enum(HOOKUPS)),
  /** How every rod is wetted on this day, unless a reading says otherwise. */
  wetting: said(z.enum(WETTINGS)),
  /** Whether the landowner and the rules of the place allow salt water. */
  salt_water_allowed: said(z.boolean()),
  rods: z.array(z.looseObject({ name: said(text), length_m: said(finite), radius_m: said(finite) })),
  weather: said(text),
  recent_rain: said(text),
  remotes: z.array(remote),
});

export const line = z.looseObject({
  id: lineId,
  ...entity,
  name: text,
  /** Default for readings that do not say their own. */
  hookup: said(z.enum(HOOKUPS)),
  /** Planned electrodes. */
  layout: said(
    z.union([
      z
        .looseObject({ from_m: alongM, to_m: alongM, step_m: finite.check(z.positive()) })
        .check(
          z.refine(
            ({ from_m, to_m, step_m }) => (to_m - from_m) / step_m < MOST_PLANNED,
            'too many planned electrodes',
          ),
        ),
      z.looseObject({ chainages_m: z.array(alongM).check(z.maxLength(MOST_PLANNED)) }),
    ]),
  ),
  path: z.array(pathItem),
  /** Heights of the ground along the line, in any one height system. */
  profile: z.array(z.looseObject({ chainage_m: alongM, height_m: heightM })),
});

export const READING_STATUS = ['ok', 'over_range', 'rejected'] as const;

/** Chainages of the four electrodes; null = remote. */
export const electrodeChainages = z.looseObject({
  a_m: z.nullable(alongM),
  b_m: z.nullable(alongM),
  m_m: z.nullable(alongM),
  n_m: z.nullable(alongM),
});

export const reading = z.looseObject({
  id: readingId,
  ...entity,
  line: lineId,
  outing: said(outingId),
  midpoint_m: said(alongM),
  spacing_m: said(lengthM),
  electrodes: said(electrodeChainages),
  /** The midpoint's own place, for readings that came with coordinates instead of a chainage. */
  position: said(position),
  hookup: said(z.enum(HOOKUPS)),
  /** Separation factor of dipole-dipole and pole-dipole. */
  n: said(finite.check(z.positive())),
  /** Potential spacing MN of a Schlumberger reading. */
  inner_spacing_m: said(lengthM),
  /** As the meter showed it; null when it showed nothing (over range). */
  value: z.nullable(finite),
  unit: z.enum(READING_UNITS),
  current_ma: said(finite),
  /** The spacing that the meter was set to, where it differs. */
  meter_spacing_m: said(lengthM),
  status: z.enum(READING_STATUS),
  status_reason: said(text),
  /** The meter's limit, in the reading's unit: the true value is above it. */
  limit: said(finite),
  wetting: said(z.enum(WETTINGS)),
  driven_depth_m: said(finite),
  /** One name per rod; a re-driven rod is a new contact, so a new seating. */
  seatings: z.optional(z.array(z.nullable(text))),
  time: said(text),
  note: said(text),
  repeat: said(z.int()),
});

/** A quiet place: its stations and the lines that it serves (absent = all). */
export const reference = z.looseObject({
  id: referenceId,
  ...entity,
  name: text,
  stations: z.array(z.looseObject({ line: lineId, chainage_m: alongM })),
  serves: said(z.array(lineId)),
});

export const surrounding = z.looseObject({
  id: surroundingId,
  ...entity,
  kind: z.enum(['fence', 'pipe', 'cable', 'tree', 'rock_face', 'opening', 'track', 'building', 'other']),
  name: said(text),
  positions: z.array(position),
  note: said(text),
});

/** Where a feature was taken from, or what it was joined with: kept when copies are merged. */
export const featureOrigin = z.looseObject({
  /** The file, person or body that it came from. */
  from: text,
  id: said(text),
  external_id: said(text),
  at: said(text),
});

/** Something of karst on the ground, in the words of the trade; `type` is a code of `feature-type.ts` or as written. */
export const feature = z.looseObject({
  id: featureId,
  ...entity,
  type: text,
  name: said(text),
  /** `reported` is unverified; `field_checked` was seen by somebody who knows; `rejected` is no such feature. */
  status: z.enum(['reported', 'field_checked', 'rejected']),
  /** Why it was taken out or rejected. */
  status_reason: said(text),
  shape: z.enum(['point', 'line', 'area']),
  positions: z.array(position),
  /** Where each part of a line or each ring of an area begins among the positions; absent = one of all. */
  parts: said(z.array(z.looseObject({ from: z.int().check(z.nonnegative()), hole: said(z.boolean()) }))),
  length_m: said(finite.check(z.nonnegative(), z.lte(1_000_000))),
  width_m: said(finite.check(z.nonnegative(), z.lte(1_000_000))),
  depth_m: said(finite.check(z.nonnegative(), z.lte(10_000))),
  /** Of the longest extent, clockwise from true north, 0 to 180. */
  long_axis_deg: said(finite.check(z.gte(0), z.lte(180))),
  water: said(z.enum(['none', 'seasonal', 'perennial', 'unknown'])),
  external_id: said(text),
  source: said(text),
  confidentiality: said(text),
  /** The owner's word on what may be shown: theirs to give and ours to write down. */
  owner_consent: said(
    z.looseObject({ given: z.enum(['yes', 'no', 'unknown']), by: said(text), date: said(text), note: said(text) }),
  ),
  observed_at: said(text),
  entered_at: said(text),
  note: said(text),
  links: said(
    z.array(z.looseObject({ kind: z.enum(['survey', 'zone', 'photo', 'feature', 'document']), target: text })),
  ),
  origins: said(z.array(featureOrigin)),
  /** The feature that this one turned out to be; it is retired then. */
  merged_into: said(featureId),
  /** Features that somebody looked at beside this one and found to be others. */
  distinct_from: said(z.array(featureId)),
  /** What was known of a zone when it was sent to the inventory. */
  evidence: said(z.looseObject({})),
  /** Side of the squares that its place is shown by, where a share does not show it exactly. */
  generalised_grid_m: said(finite.check(z.positive())),
});

export const photo = z.looseObject({
  id: photoId,
  ...entity,
  /** Of the file's bytes, in hexadecimal; the file itself is kept outside. */
  sha256: text,
  /** The id of what it shows: a reading, a feature, a line. */
  subject: text,
  time: said(text),
  media_type: said(text),
  bytes: said(z.int().check(z.nonnegative())),
});

/** A doubt looked at by a person: who, when, why. */
export const settlement = z.looseObject({
  id: settlementId,
  ...entity,
  doubt: text,
  decision: z.enum(['accepted', 'explained', 'rejected']),
  why: text,
});

export const SURVEY_FORMAT = 'hollowline-survey';
export const SURVEY_VERSION = 1;

export const survey = z.looseObject({
  format: z.literal(SURVEY_FORMAT),
  version: z.literal(SURVEY_VERSION),
  id: surveyId,
  site,
  outings: z.array(outing),
  lines: z.array(line),
  readings: z.array(reading),
  references: z.array(reference),
  surroundings: z.array(surrounding),
  features: z.array(feature),
  photos: z.array(photo),
  settlements: z.array(settlement),
});

/** Read-only all the way down, and only the keys that this version knows: the rest is carried, never read. */
type Frozen<T> = T extends (infer U)[]
  ? readonly Frozen<U>[]
  : T extends string | number | boolean | null | undefined
    ? T
    : { readonly [K in keyof T as string extends K ? never : K]: Frozen<T[K]> };

export type Revised = Frozen<z.infer<typeof revised>>;
export type Position = Frozen<z.infer<typeof position>>;
export type LocalGrid = Frozen<z.infer<typeof localGrid>>;
export type Fix = Frozen<z.infer<typeof fix>>;
export type PathItem = Frozen<z.infer<typeof pathItem>>;
export type Site = Frozen<z.infer<typeof site>>;
export type Remote = Frozen<z.infer<typeof remote>>;
export type Outing = Frozen<z.infer<typeof outing>>;
export type Line = Frozen<z.infer<typeof line>>;
export type Reading = Frozen<z.infer<typeof reading>>;
export type Reference = Frozen<z.infer<typeof reference>>;
export type Surrounding = Frozen<z.infer<typeof surrounding>>;
export type Feature = Frozen<z.infer<typeof feature>>;
export type Photo = Frozen<z.infer<typeof photo>>;
export type Settlement = Frozen<z.infer<typeof settlement>>;
export type Survey = Frozen<z.infer<typeof survey>>;
export type Wetting = (typeof WETTINGS)[number];
