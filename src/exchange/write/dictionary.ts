import { DOUBT_CODES } from '../../survey/doubt';
import { FEATURE_TYPES } from '../../survey/feature-type';
import { HOOKUPS } from '../../survey/hookup';
import { csvText } from './csv';

/*
 * What every property of every layer means. Columns of typed formats are made from it, so a property that is not here
 * cannot be written there. The columns of tables stand in `table-dictionary.ts`.
 */

type PropertyType = 'text' | 'integer' | 'real';

export interface Property {
  readonly name: string;
  readonly type: PropertyType;
  /** As it is written after the name, or a word for numbers that have none; null for text that is no number. */
  readonly unit: string | null;
  readonly meaning: string;
  /** Codes that it may have; null where it is free. */
  readonly allowed: readonly string[] | null;
  /** What null says, or an empty cell of a table; null where there is none. */
  readonly nullMeans: string | null;
}

export const DICTIONARY_LAYERS = [
  'lines',
  'controls',
  'electrodes',
  'midpoints',
  'segments',
  'corridors',
  'zones',
  'next_readings',
  'feature_points',
  'feature_lines',
  'feature_areas',
  'setbacks',
] as const;
export type DictionaryLayer = (typeof DICTIONARY_LAYERS)[number];

/** A table that the dictionary explains. */
export interface DictionaryTable {
  /** Of its file. */
  readonly name: string;
  readonly meaning: string;
  /** In the order in which they are written; one that is empty in every row may be left out. */
  readonly columns: readonly Property[];
}

export type More = { readonly allowed?: readonly string[]; readonly nullMeans?: string };

export const of =
  (type: PropertyType) =>
  (name: string, unit: string | null, meaning: string, more: More = {}): Property => ({
    name,
    type,
    unit,
    meaning,
    allowed: more.allowed ?? null,
    nullMeans: more.nullMeans ?? null,
  });
export const real = of('real');
export const integer = of('integer');
export const text = (name: string, meaning: string, more: More = {}): Property => of('text')(name, null, meaning, more);

const SID = text('sid', 'Name of the thing in this and every later file: the same as the feature id.');
const LINE = text('line', 'Name of the survey line.');
const CHAINAGE = real('chainage_m', 'm', 'Distance along the line, by its tape.');
const SPACING = real('spacing_m', 'm', 'Spacing a of the reading.', { nullMeans: 'not said' });
const HOOKUP = text('hookup', 'How the probes were wired.', { allowed: HOOKUPS });
const UNCERTAINTY = real(
  'position_uncertainty_95_m',
  'm',
  'Radius round the place that holds the true one with 95 %, computed from what is known of its measurement.',
);
const DOUBTS = text('doubts', 'Reasons to be wary, joined by ";"; empty = none known.', { allowed: DOUBT_CODES });
const STROKE = text('stroke', 'Colour to draw it in, #rrggbb (simplestyle 1.1).');
const STROKE_WIDTH = integer('stroke-width', 'px', 'Width to draw it with (simplestyle 1.1).');
const STROKE_OPACITY = real('stroke-opacity', 'share', 'Opacity to draw it with (simplestyle 1.1).');
const FILL = text('fill', 'Colour to fill it with, #rrggbb (simplestyle 1.1).');
const FILL_OPACITY = real('fill-opacity', 'share', 'Opacity of the fill (simplestyle 1.1).');
const MARKER_COLOR = text('marker-color', 'Colour of its mark, #rrggbb (simplestyle 1.1).');
const MARKER_SIZE = text('marker-size', 'Size of its mark (simplestyle 1.1).', { allowed: ['small'] });
const FROM = real('chainage_from_m', 'm', 'Where along the line it begins.');
const TO = real('chainage_to_m', 'm', 'Where along the line it ends.');

const NO_REFERENCE = 'no figure, or nothing to compare it with';
const REMOTE = 'no such electrode on the line: remote, or the same rod as another, or not said';

const FIGURES: readonly Property[] = [
  SID,
  LINE,
  CHAINAGE,
  SPACING,
  HOOKUP,
  integer('reading_count', 'count', 'Readings that count in the figure; repeats are pooled.'),
  real('figure_ohm_m', 'Ω·m', 'What figure_kind says, from the readings.', {
    nullMeans: 'every reading was over range or rejected',
  }),
  text(
    'figure_kind',
    'Apparent resistivity; or the two-probe figure, which is mostly the contact of the rods and no resistivity of the ground.',
    { allowed: ['apparent_resistivity', 'two_probe'] },
  ),
  real('reference_ohm_m', 'Ω·m', 'Figure of the reference at this spacing.', {
    nullMeans: 'no reference reaches here',
  }),
  real('ratio', 'ratio', 'Figure over reference.', { nullMeans: NO_REFERENCE }),
  real('ratio_standard_error', 'ratio', 'Standard error of the ratio.', { nullMeans: NO_REFERENCE }),
  real('z_score', 'standard errors', 'How far ln(ratio) lies from 0, in its standard errors.', {
    nullMeans: NO_REFERENCE,
  }),
  text('grade', 'How much it stands out; the breaks are among the settings in metadata.json.', {
    allowed: ['none', 'slight', 'clear', 'strong'],
    nullMeans: 'not graded: nothing to compare it with, or a two-probe hint in a copy for others',
  }),
  text('sign', 'Above or below the reference.', {
    allowed: ['above_reference', 'below_reference'],
    nullMeans: 'not graded',
  }),
  real('depth_m', 'm', 'Depth that the reading looks at in uniform ground, by depth_rule; not the depth of anything.', {
    nullMeans: 'two-probe readings have none, and those without a spacing',
  }),
  text('depth_rule', 'Rule behind depth_m.', { allowed: ['median', 'half_spacing', 'none'] }),
  DOUBTS,
  ...(['a', 'b', 'm', 'n'] as const).map((role) =>
    real(`${role}_chainage_m`, 'm', `Where electrode ${role.toUpperCase()} stood along the line.`, {
      nullMeans: REMOTE,
    }),
  ),
  UNCERTAINTY,
  text('measured_at', 'When it was read, ISO 8601; a day only in copies for others.', { nullMeans: 'not said' }),
];

const range = (name: string, unit: string, meaning: string, nullMeans: string): readonly Property[] => [
  real(`${name}_${unit}`, unit, `${meaning}: best value.`, { nullMeans }),
  real(`${name}_low_95_${unit}`, unit, `${meaning}: lower end of what it may be with 95 %.`, { nullMeans }),
  real(`${name}_high_95_${unit}`, unit, `${meaning}: upper end of what it may be with 95 %.`, { nullMeans }),
];

/** Columns that are added where a projected system was asked for. */
const PROJECTED: readonly Property[] = [
  real('easting_m', 'm', 'Easting in the system that epsg names.'),
  real('northing_m', 'm', 'Northing in the same system.'),
  integer('epsg', 'code', 'EPSG code of that system.'),
];

const KARST: readonly Property[] = [
  SID,
  text('type', 'Kind of feature: one of these codes, or as its source wrote it.', { allowed: FEATURE_TYPES }),
  text('name', 'Its name.', { nullMeans: 'none, or not shown' }),
  text('status', 'Reported only, checked in the field, or rejected as no such feature.', {
    allowed: ['reported', 'field_checked', 'rejected'],
  }),
  real('length_m', 'm', 'Its length.', { nullMeans: 'not said' }),
  real('width_m', 'm', 'Its width.', { nullMeans: 'not said' }),
  real('depth_m', 'm', 'Its depth.', { nullMeans: 'not said' }),
  real('long_axis_deg', 'deg', 'Bearing of its longest extent, clockwise from true north, 0 to 180.', {
    nullMeans: 'not said',
  }),
  text('water', 'Whether water goes in or comes out.', {
    allowed: ['none', 'seasonal', 'perennial', 'unknown'],
    nullMeans: 'not said',
  }),
  text('external_id', 'Its number in another list.', { nullMeans: 'none, or not shown' }),
  text('source', 'Who or what says so.', { nullMeans: 'not said' }),
  text('confidentiality', 'Class that decides who sees it how exactly.', { nullMeans: 'none, or not shown' }),
  text('observed_at', 'When it was seen, ISO 8601.', { nullMeans: 'not said' }),
  UNCERTAINTY,
  real('generalised_grid_m', 'm', 'Side of the square that its place is shown by: it lies anywhere in or near it.', {
    nullMeans: 'shown as exactly as it is known',
  }),
  text('note', 'Anything else.', { nullMeans: 'none, or not shown' }),
];

/** The properties of each layer, in the order in which they are written. */
export const LAYER_PROPERTIES: Readonly<Record<DictionaryLayer, readonly Property[]>> = {
  lines: [
    SID,
    LINE,
    text('hookup', 'How the probes were wired, joined by ";".', { nullMeans: 'not said', allowed: HOOKUPS }),
    real('length_m', 'm', 'Length over the ground, on the ellipsoid.'),
    integer('readings', 'count', 'Readings on the line.'),
    text('outings', 'Days on which it was read, joined by ";".'),
    STROKE,
    STROKE_WIDTH,
  ],
  controls: [
    SID,
    LINE,
    CHAINAGE,
    text('kind', 'How the place was measured.', { allowed: ['fix', 'leg', 'offset', 'two_tapes', 'bearing'] }),
    text('source', 'By whom or what.', { nullMeans: 'not said, or not shown' }),
    real('residual_m', 'm', 'How far it lies from where tape, legs and the other controls put it.', {
      nullMeans: 'they say nothing about it',
    }),
    real('residual_sigma', 'standard deviations', 'The same against what its accuracy lets expect.', {
      nullMeans: 'they say nothing about it',
    }),
    UNCERTAINTY,
  ],
  electrodes: [
    SID,
    LINE,
    real('chainage_m', 'm', 'Distance along the line, by its tape.', { nullMeans: 'remote, off the line' }),
    text('role', 'A rod on the line, a remote one, or one that is planned.', {
      allowed: ['probe', 'remote', 'planned'],
    }),
    real('elevation_m', 'm', 'Height of the ground, in the height system of the survey.', { nullMeans: 'not known' }),
    integer('reading_count', 'count', 'Readings that used it.'),
    UNCERTAINTY,
  ],
  midpoints: [...FIGURES, MARKER_COLOR, MARKER_SIZE],
  segments: [
    ...FIGURES,
    FROM,
    TO,
    integer(
      'part',
      'count',
      'Which piece of the segment: it has more than one where it crosses 180° or is draped twice.',
    ),
    text('drape', 'Laid on the midpoint of the reading, or on its probes.', { allowed: ['midpoint', 'probes'] }),
    STROKE,
    STROKE_WIDTH,
    STROKE_OPACITY,
  ],
  corridors: [
    SID,
    LINE,
    FROM,
    TO,
    real('half_width_m', 'm', 'How far to either side of the line it reaches.'),
    text('target_kind', 'The void that it speaks of.', { allowed: ['air_filled_chamber'] }),
    real('target_radius_m', 'm', 'Radius of that void.'),
    real('target_depth_m', 'm', 'Depth of its centre.'),
    real('smallest_chamber_radius_m', 'm', 'Smallest chamber at that depth that a search would have found all along.', {
      nullMeans: 'not searched, or none of those tried',
    }),
    real(
      'smallest_passage_radius_m',
      'm',
      'Smallest passage across the line that a search would have found all along.',
      {
        nullMeans: 'not searched, or none of those tried',
      },
    ),
    text('meaning', 'The same in words.'),
    STROKE,
    STROKE_WIDTH,
    FILL,
    FILL_OPACITY,
  ],
  zones: [
    SID,
    text('name', 'Name of the zone.'),
    text('lines', 'Lines that it lies on, joined by ";".'),
    text('verdict', 'What it is most likely to be; evidence, never a hazard class.', {
      allowed: ['void_like', 'layer_like', 'contact_like', 'unresolved'],
    }),
    text('basis', 'A search of all readings of the line, or neighbouring grades alone.', {
      allowed: ['search', 'grades'],
    }),
    text('figure_kind', 'two_probe: it is made of hints and of nothing else.', {
      allowed: ['apparent_resistivity', 'two_probe'],
    }),
    text('chainages_m', 'Where along each line: best value, and in brackets what it may be with 95 %.', {
      nullMeans: 'no place along a line was found for it',
    }),
    real('peak_ratio', 'ratio', 'Ratio to the reference farthest from 1 among its readings.', {
      nullMeans: NO_REFERENCE,
    }),
    real('peak_ratio_standard_error', 'ratio', 'Standard error of that.', { nullMeans: NO_REFERENCE }),
    integer('highs', 'count', 'Readings above the reference.'),
    integer('lows', 'count', 'Readings below the reference; a low at wide spacing can be the same hollow as a high.'),
    ...range('depth', 'm', 'Depth of axis or centre (fit), or what its readings look at (depth_rule)', 'not known'),
    text('depth_basis', 'Where the depth comes from.', { allowed: ['none', 'fit', 'depth_rule'] }),
    ...range('radius', 'm', 'Radius by the search', 'not searched, or not known'),
    real('chance_of_no_void', 'share', 'Chance that ordinary ground of this line gives as much anywhere on it.', {
      nullMeans: 'not searched',
    }),
    ...range(
      'trend',
      'deg',
      'Direction of a passage through three or more lines, from true north',
      'too few lines agree',
    ),
    integer('midpoints', 'count', 'Places of readings in it.'),
    integer('readings', 'count', 'Readings in it.'),
    integer('line_count', 'count', 'Lines in it.'),
    integer('days', 'count', 'Days on which it was read.'),
    DOUBTS,
    text('meaning', 'What is known, what else could explain it, what to do next.'),
    STROKE,
    STROKE_WIDTH,
    FILL,
    FILL_OPACITY,
  ],
  next_readings: [
    SID,
    integer('rank', 'count', '1 = the most useful.'),
    text('kind', 'What to do.', {
      allowed: ['nudge_and_repeat', 'wet_and_repeat', 'fill_spacing', 'half_step', 'crossing_line', 'farther_remote'],
    }),
    text('zone', 'Zone that it is about.', { nullMeans: 'that zone is not in this copy' }),
    text('line', 'Name of the survey line.', { nullMeans: 'that line is not in this copy' }),
    CHAINAGE,
    SPACING,
    HOOKUP,
    text('probes_m', 'Chainages at which rods go in, joined by ";".', { nullMeans: 'none on the line' }),
    real('ratio_if_void', 'ratio', 'What a void lets expect.', { nullMeans: 'any' }),
    real('ratio_if_contact', 'ratio', 'What a bad contact lets expect.', { nullMeans: 'any' }),
    real('ratio_if_uneven_soil', 'ratio', 'What uneven soil lets expect.', { nullMeans: 'any' }),
    real('separation_standard_errors', 'standard errors', 'How far the nearest two of these lie from each other.'),
    text('meaning', 'What to do and what to look for.'),
    MARKER_COLOR,
    MARKER_SIZE,
  ],
  feature_points: KARST,
  feature_lines: KARST,
  feature_areas: KARST,
  setbacks: [
    SID,
    text('type', 'Kind of feature that the rule is for; any = all.'),
    real('distance_m', 'm', 'Distance that the rule keeps clear.'),
    text('measured_from', 'From its mapped edge, its rim, or its middle.', { allowed: ['edge', 'rim', 'point'] }),
    text('with_uncertainty', 'Whether the uncertainty of the place is added.', { allowed: ['yes', 'no'] }),
    text('cites', 'Where the rule comes from, in the words of whoever set it.', { nullMeans: 'not said' }),
    text('features', 'Ids of the features inside, joined by ";".'),
  ],
};

/** The one kind of geometry that each layer holds. */
export const GEOMETRY_TYPES: Readonly<
  Record<DictionaryLayer, 'Point' | 'LineString' | 'MultiLineString' | 'MultiPolygon'>
> = {
  lines: 'MultiLineString',
  controls: 'Point',
  electrodes: 'Point',
  midpoints: 'Point',
  segments: 'LineString',
  corridors: 'MultiPolygon',
  zones: 'MultiPolygon',
  next_readings: 'Point',
  feature_points: 'Point',
  feature_lines: 'MultiLineString',
  feature_areas: 'MultiPolygon',
  setbacks: 'MultiPolygon',
};

/** What each layer shows. */
export const LAYER_MEANINGS: Readonly<Record<DictionaryLayer, string>> = {
  lines: 'Survey lines as they run over the ground',
  controls: 'Places by which the lines were put on the map',
  electrodes: 'Where rods stood, or are planned',
  midpoints: 'Readings at their midpoints, repeats pooled',
  segments: 'Stretches of line coloured by what was read there',
  corridors: 'Ground within which the stated void would have shown; outside is not surveyed, never safe',
  zones: 'Places where readings tell one story; evidence, no proof',
  next_readings: 'Readings that are worth taking next',
  feature_points: 'Karst features known by a point',
  feature_lines: 'Karst features known by a line',
  feature_areas: 'Karst features known by their outline',
  setbacks: 'Ground that the rules of the survey keep clear of features',
};

/** Properties that are whole numbers: all others that are numbers are written with a decimal point. */
export const WHOLE_PROPERTIES: ReadonlySet<string> = new Set(
  [...Object.values(LAYER_PROPERTIES).flat(), ...PROJECTED]
    .filter(({ type }) => type === 'integer')
    .map(({ name }) => name),
);

/** Name of a property as a column of a database, where a hyphen would have to be quoted. */
export const columnName = (name: string): string => name.replaceAll('-', '_');

interface Entry {
  /** Name of a layer, or of a table. */
  readonly layer: string;
  /** Tables have none, and empty cells for null. */
  readonly geometry: string | null;
  readonly property: Property;
}

const entriesOf = (layers: readonly DictionaryLayer[], tables: readonly DictionaryTable[]): readonly Entry[] => [
  ...layers.flatMap((layer) =>
    LAYER_PROPERTIES[layer].map((property) => ({ layer, geometry: GEOMETRY_TYPES[layer], property })),
  ),
  ...tables.flatMap(({ name, columns }) => columns.map((property) => ({ layer: name, geometry: null, property }))),
];

/** The dictionary of these layers and tables as a table. */
export function dictionaryCsv(layers: readonly DictionaryLayer[], tables: readonly DictionaryTable[] = []): string {
  const columns = ['layer', 'geometry', 'property', 'column', 'type', 'unit', 'meaning', 'allowed', 'null_means'];
  const rows = entriesOf(layers, tables).map(({ layer, geometry, property }) => ({
    layer,
    geometry: geometry ?? 'none',
    property: property.name,
    column: columnName(property.name),
    type: property.type,
    unit: property.unit,
    meaning: property.meaning,
    allowed: property.allowed?.join(';') ?? null,
    null_means: property.nullMeans ?? (geometry === null ? 'never empty' : 'never null'),
  }));
  return csvText(columns, rows, columns);
}

/** The same for programs. Without tables it says nothing of them. */
export function dictionaryDocument(
  layers: readonly DictionaryLayer[],
  tables: readonly DictionaryTable[] = [],
): object {
  return {
    layers: layers.map((layer) => ({
      name: layer,
      meaning: LAYER_MEANINGS[layer],
      geometry: GEOMETRY_TYPES[layer],
      crs: 'EPSG:4326, longitude first',
      properties: LAYER_PROPERTIES[layer].map(propertyDocument),
    })),
    ...(tables.length > 0 && {
      tables: tables.map(({ name, meaning, columns }) => ({ name, meaning, columns: columns.map(propertyDocument) })),
    }),
  };
}

const propertyDocument = ({ name, type, unit, meaning, allowed, nullMeans }: Property): object => ({
  name,
  column: columnName(name),
  type,
  unit,
  meaning,
  allowed,
  null_means: nullMeans,
});
