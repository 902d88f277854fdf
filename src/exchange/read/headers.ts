import type { ReadingUnit } from '../../survey/units';
import { bareKey, LONGEST_WORD, readUnit } from './vocabulary';

/** The tables that a survey may be kept in. */
export const TABLE_KINDS = ['positions', 'readings', 'legs', 'remotes', 'features'] as const;
export type TableKind = (typeof TABLE_KINDS)[number];

/** What a column's numbers measure; decides which units a header may name. */
type Dimension = 'text' | 'number' | 'length' | 'angle' | 'grid' | 'value' | 'current';

interface FieldSpec {
  readonly dimension: Dimension;
  /** Other headers for the same, letters and digits only, without a unit. The field's own name needs no entry. */
  readonly synonyms?: readonly string[];
}

const text = (...synonyms: string[]): FieldSpec => ({ dimension: 'text', synonyms });
const number = (...synonyms: string[]): FieldSpec => ({ dimension: 'number', synonyms });
const length = (...synonyms: string[]): FieldSpec => ({ dimension: 'length', synonyms });
const angle = (...synonyms: string[]): FieldSpec => ({ dimension: 'angle', synonyms });
const grid = (...synonyms: string[]): FieldSpec => ({ dimension: 'grid', synonyms });

const PLACE = {
  lon: angle('longitude', 'long', 'lng', 'londeg', 'longitudedeg'),
  lat: angle('latitude', 'latdeg', 'latitudedeg'),
  easting: grid('east', 'eastings', 'utmeasting', 'utme'),
  northing: grid('north', 'northings', 'utmnorthing', 'utmn'),
  epsg: text('epsgcode', 'crs', 'srid', 'utmzone'),
  coordinates: text(
    'coordinate',
    'coords',
    'latlon',
    'latlong',
    'gpscoordinates',
    'mgrs',
    'usng',
    'gridreference',
    'gridref',
  ),
} as const;

const QUALITY = {
  elevation_m: length('elevation', 'elev', 'height', 'altitude', 'alt', 'z'),
  accuracy_m: length('accuracy', 'precision', 'gpsaccuracy', 'horizontalaccuracy'),
  accuracy_level: text('accuracylevelpercent', 'confidencelevel'),
  source: text('positionsource', 'method'),
  device: text('gps', 'receiver', 'instrument'),
} as const;

const WHEN = { time: text('datetime', 'timestamp', 'measuredat', 'observedat'), date: text('day') } as const;
const LINE = { line: text('linename', 'lineid', 'lineno', 'linenumber', 'profile', 'traverse', 'track') } as const;
const STEP = { step_m: length('step', 'electrodestep'), electrodes: number('electrodecount') } as const;
const ELECTRODE = { electrode: number('electrodeno', 'electrodenumber', 'elno', 'elcno', 'probeno') } as const;
const OUTING = { outing: text('outingname', 'session') } as const;

const pair = <P extends string>(prefix: P, ...spoken: string[]) => {
  const both = (axis: string) => spoken.flatMap((word) => [`${word}${axis}`, `${axis}${word}`]);
  return {
    [`${prefix}_lon`]: angle(...both('lon'), ...both('longitude')),
    [`${prefix}_lat`]: angle(...both('lat'), ...both('latitude')),
    [`${prefix}_easting`]: grid(...both('easting'), ...both('east')),
    [`${prefix}_northing`]: grid(...both('northing'), ...both('north')),
  } as Record<`${P}_${'lon' | 'lat' | 'easting' | 'northing'}`, FieldSpec>;
};

const SPECS = {
  positions: {
    ...LINE,
    chainage_m: length('chainage', 'station', 'distance', 'dist', 'tape', 'alongline', 'distancealongline'),
    ...ELECTRODE,
    ...STEP,
    ...PLACE,
    ...QUALITY,
    ...WHEN,
    hdop: number(),
    hookup: text('array', 'arraytype', 'configuration'),
    ...pair('first', 'first', 'start', 'begin', 'from'),
    ...pair('last', 'last', 'end', 'to'),
    ...pair('remote', 'remote', 'infinity', 'infty', 'infinite'),
    remote_role: text(),
  },
  readings: {
    ...LINE,
    midpoint_m: length('midpoint', 'mid', 'midpointchainage', 'station', 'chainage', 'centre', 'center'),
    spacing_m: length(
      'spacing',
      'aspacing',
      'probespacing',
      'electrodespacing',
      'separation',
      'probeseparation',
      'ab2',
    ),
    value: {
      dimension: 'value',
      synonyms: [
        ...['reading', 'shown', 'metervalue', 'resistance', 'r', 'resistivity', 'apparentresistivity', 'rho', 'rhoa'],
        ...['appres', 'v', 'dv', 'voltage', 'potential'],
      ],
    },
    unit: text('units', 'valueunit', 'readingunit'),
    hookup: text('array', 'arraytype', 'configuration', 'wiring'),
    meter_spacing_m: length('meterspacing', 'metersetting', 'spacingset', 'setspacing'),
    status: text('state', 'flag'),
    status_reason: text('reason'),
    limit: { dimension: 'value', synonyms: ['meterlimit', 'upperlimit', 'rangelimit'] },
    wetting: text('wetted', 'watering'),
    seating_1: text('seating1', 'rod1', 'probe1'),
    seating_2: text('seating2', 'rod2', 'probe2'),
    ...OUTING,
    ...WHEN,
    note: text('notes', 'comment', 'comments', 'remark', 'remarks'),
    reference: text('isreference', 'background', 'isbackground'),
    n: number('nfactor', 'separationfactor', 'nlevel'),
    inner_spacing_m: length('innerspacing', 'mn', 'mnspacing', 'potentialspacing'),
    current_ma: { dimension: 'current', synonyms: ['current', 'i'] },
    driven_depth_m: length('drivendepth', 'rodinsertion', 'insertiondepth', 'probedepth'),
    a_m: length(),
    b_m: length(),
    m_m: length(),
    n_m: length(),
    a_electrode: number('aelectrodeno'),
    b_electrode: number('belectrodeno'),
    m_electrode: number('melectrodeno'),
    n_electrode: number('nelectrodeno'),
    step_m: STEP.step_m,
    ...PLACE,
    ...QUALITY,
  },
  legs: {
    ...LINE,
    from_chainage_m: length('fromchainage', 'from', 'chainage', 'station', 'fromstation'),
    bearing_deg: angle('bearing', 'azimuth', 'compass', 'heading'),
    bearing_ref: text('bearingreference', 'northreference', 'reference'),
    distance_m: length('distance', 'dist', 'leglength', 'length', 'taped'),
    slope_deg: angle('slope', 'slopeangle', 'inclination', 'clino'),
    ...WHEN,
  },
  remotes: { ...OUTING, role: text('remoterole', 'electrode', 'name'), ...PLACE, ...QUALITY, ...WHEN },
  features: {
    external_id: text('id', 'externalid', 'featureid', 'code'),
    type: text('featuretype', 'kind', 'class'),
    name: text('featurename', 'title'),
    ...PLACE,
    ...QUALITY,
    status: text('state'),
    note: text('notes', 'comment', 'comments', 'remark', 'remarks', 'description'),
    confidentiality: text('confidential', 'protection'),
    ...WHEN,
  },
} as const satisfies Record<TableKind, Record<string, FieldSpec>>;

/** The name of a column's meaning, such as `spacing_m`. */
export type Field = { [K in TableKind]: keyof (typeof SPECS)[K] }[TableKind] & string;

/** Every field that a table of this kind may have, in the order in which messages name them. */
export function fieldsOf(kind: TableKind): readonly Field[] {
  return Object.keys(SPECS[kind]) as Field[];
}

/** Metres per unit of length that a header may name. Feet are international; the US survey foot is 1200/3937 m. */
const METRES_PER: Readonly<Record<string, number>> = {
  m: 1,
  metre: 1,
  metres: 1,
  meter: 1,
  meters: 1,
  km: 1000,
  cm: 0.01,
  mm: 0.001,
  ft: 0.3048,
  foot: 0.3048,
  feet: 0.3048,
  usft: 1200 / 3937,
  ussurveyft: 1200 / 3937,
  ussurveyfeet: 1200 / 3937,
  in: 0.0254,
  inch: 0.0254,
  inches: 0.0254,
};
const ANGLE_UNITS = new Set(['', 'deg', 'degs', 'degree', 'degrees', 'decimaldegrees', 'dd', 'dms', 'wgs84']);
const MILLIAMPERES_PER: Readonly<Record<string, number>> = { ma: 1, a: 1000 };

/** A header understood. */
export interface HeaderMatch {
  readonly field: Field;
  /** Multiplies the cell's number to give the field's own unit. */
  readonly factor: number;
  /** Unit of a `value` or `limit` that the header names. */
  readonly readingUnit: ReadingUnit | null;
  /** Unit of length that the header names, as written; for coordinates of a grid. */
  readonly lengthUnit: string | null;
  /** What else the header might have meant, for a note; null where the match is plain. */
  readonly doubt: string | null;
}

const SUFFIX_UNITS =
  /^(.+?)[\s_.,/-]+(ohm[\s_.*·-]*m|kohm[\s_.*·-]*m|us[\s_]?(?:survey[\s_]?)?f(?:ee)?t|[^\s_.,/-]+)$/i;
const BRACKET_UNITS = /^(.*?)[\s_]*[([{]([^)\]}]*)[)\]}]\s*$/;

/** The ways to part a header into a name and a unit, most literal first. */
function* readingsOf(header: string): Generator<readonly [key: string, unit: string | null]> {
  if (header.length > LONGEST_WORD) return;
  const spelt = header.trim().replace(/[\u03a9\u2126\u03c9]/g, 'ohm');
  yield [bareKey(spelt), null];
  const bracket = BRACKET_UNITS.exec(spelt);
  if (bracket) yield [bareKey(bracket[1] ?? ''), bareKey(bracket[2] ?? '')];
  const suffix = SUFFIX_UNITS.exec(spelt.replace(/\s*[)\]}]$/, ''));
  if (suffix) yield [bareKey(suffix[1] ?? ''), bareKey(suffix[2] ?? '')];
}

interface Named {
  readonly field: Field;
  readonly spec: FieldSpec;
}

/** Field by every key that names it, without units. */
const NAMES: Readonly<Record<TableKind, ReadonlyMap<string, Named>>> = Object.fromEntries(
  TABLE_KINDS.map((kind) => {
    const names = new Map<string, Named>();
    const specs = SPECS[kind] as Readonly<Record<string, FieldSpec>>;
    for (const [name, spec] of Object.entries(specs)) names.set(bareKey(name), { field: name as Field, spec });
    for (const [name, spec] of Object.entries(specs)) {
      const own = name.replace(/_(m|deg|ma)$/, '');
      // The electrodes' letters are read by the company they keep, below.
      const synonyms = /^[abmn]$/.test(own) && name !== 'n' ? [] : [own, ...(spec.synonyms ?? [])];
      for (const synonym of synonyms) {
        const key = bareKey(synonym);
        if (!names.has(key)) names.set(key, { field: name as Field, spec });
      }
    }
    if (kind === 'readings') for (const letter of 'abmn') names.delete(`${letter}m`);
    return [kind, names];
  }),
) as unknown as Record<TableKind, ReadonlyMap<string, Named>>;

const plain = (field: Field, factor = 1): HeaderMatch => ({
  field,
  factor,
  readingUnit: null,
  lengthUnit: null,
  doubt: null,
});

function withUnit({ field, spec }: Named, unit: string | null): HeaderMatch | null {
  if (unit === null) return plain(field);
  switch (spec.dimension) {
    case 'length': {
      const factor = METRES_PER[unit];
      return factor === undefined ? null : plain(field, factor);
    }
    case 'grid':
      return METRES_PER[unit] === undefined ? null : { ...plain(field), lengthUnit: unit };
    case 'angle':
      return ANGLE_UNITS.has(unit) ? plain(field) : null;
    case 'current': {
      const factor = MILLIAMPERES_PER[unit];
      return factor === undefined ? null : plain(field, factor);
    }
    case 'value': {
      const readingUnit = readUnit(unit);
      return readingUnit === null ? null : { ...plain(field), readingUnit };
    }
    default:
      return null;
  }
}

/** What stands beside a header and decides what it means. */
interface Company {
  /** Headers as electrode letters or as `a_m`: A with M or B. */
  readonly quartet: boolean;
  /** The same for letters without a unit, so that a lone `n` beside `a_m` is the factor and beside `a` the electrode. */
  readonly bareQuartet: boolean;
  /** `E` and `N` together, which are coordinates then. */
  readonly eastNorth: boolean;
  readonly projected: boolean;
}

const isEpsg = (header: string): boolean => {
  const key = header.length > LONGEST_WORD ? '' : bareKey(header);
  return key === 'epsg' || (PLACE.epsg.synonyms ?? []).includes(key);
};

/** Whether headers name the coordinate system, so that x, y, e and n are projected. */
export const namesCoordinateSystem = (headers: readonly string[]): boolean => headers.some(isEpsg);

function companyOf(kind: TableKind, headers: readonly string[], stated: boolean): Company {
  const letters = new Set<string>();
  const bare = new Set<string>();
  for (const header of headers) {
    let first = true;
    for (const [key] of readingsOf(header)) {
      letters.add(key);
      if (first) bare.add(key);
      first = false;
    }
  }
  const isQuartet = (keys: ReadonlySet<string>) => keys.has('a') && (keys.has('m') || keys.has('b'));
  const projected = stated || namesCoordinateSystem(headers);
  const hasPair = letters.has('e') && letters.has('n') && !letters.has('easting') && !letters.has('east');
  // In readings, n is the separation factor unless the file says that it has coordinates.
  const eastNorth = hasPair && 'easting' in SPECS[kind] && (kind !== 'readings' || (projected && !isQuartet(letters)));
  return { quartet: isQuartet(letters), bareQuartet: isQuartet(bare), eastNorth, projected };
}

/** Electrode letters: chainages of the electrodes where A has company, else `a` is the spacing. */
function matchLetter(header: string, { quartet, bareQuartet }: Company): HeaderMatch | null {
  for (const [key, unit] of readingsOf(header)) {
    const factor = METRES_PER[unit ?? 'm'];
    if (!/^[abmn]$/.test(key) || factor === undefined) continue;
    if (key === 'n' && unit === null && !bareQuartet) return plain('n');
    if (quartet) return plain(`${key}_m` as Field, factor);
    if (key === 'a') {
      const doubt = unit === null ? null : 'the chainage of electrode A, if m_m or b_m stood beside it';
      return { ...plain('spacing_m', factor), doubt };
    }
    return null;
  }
  return null;
}

/** A header that is a field's own name to the letter; the electrodes' letters are read by the company they keep. */
function matchExact(kind: TableKind, header: string): HeaderMatch | null {
  const isLetter = kind === 'readings' && /^[abmn](_m)?$/.test(header);
  return !isLetter && Object.hasOwn(SPECS[kind], header) ? plain(header as Field) : null;
}

function matchEastNorth(header: string): HeaderMatch | null {
  for (const [key, unit] of readingsOf(header)) {
    if ((key !== 'e' && key !== 'n') || (unit !== null && METRES_PER[unit] === undefined)) continue;
    return { ...plain(key === 'e' ? 'easting' : 'northing'), lengthUnit: unit };
  }
  return null;
}

/**
 * What each header of a table means; null where it is not known.
 * Case, spaces and punctuation do not count; a unit may follow in brackets or at the end (`Spacing (ft)`, `value_ohm`).
 * @param projected whether the file says which grid or EPSG code its coordinates are in: decides what x and y are.
 */
export function matchHeaders(
  kind: TableKind,
  headers: readonly string[],
  projected: boolean,
): readonly (HeaderMatch | null)[] {
  const company = companyOf(kind, headers, projected);
  return headers.map((header) => {
    const exact = matchExact(kind, header);
    if (exact) return exact;
    if (company.eastNorth) {
      const axis = matchEastNorth(header);
      if (axis) return axis;
    }
    if (kind === 'readings') {
      const letter = matchLetter(header, company);
      if (letter) return letter;
    }
    for (const [key, unit] of readingsOf(header)) {
      const named = NAMES[kind].get(key);
      const match = named ? withUnit(named, unit) : null;
      if (match) return match;
      if (kind !== 'legs' && (key === 'x' || key === 'y')) {
        const axis = matchAxis(key, unit, company.projected);
        if (axis && (fieldsOf(kind) as readonly string[]).includes(axis.field)) return axis;
      }
    }
    // A header that is nothing but a unit: "ohm m", "mV".
    if (kind === 'readings') {
      const readingUnit = readUnit(header);
      if (readingUnit) return { ...plain('value'), readingUnit };
    }
    return null;
  });
}

/** A field that a columns map gives to a header, with the unit that the header itself may name (`Spacing (ft)`). */
export function matchMapped(kind: TableKind, field: Field, header: string): HeaderMatch {
  const spec = (SPECS[kind] as Readonly<Record<string, FieldSpec>>)[field];
  if (spec) {
    for (const [, unit] of readingsOf(header)) {
      const match = unit === null ? null : withUnit({ field, spec }, unit);
      if (match) return match;
    }
    const readingUnit = spec.dimension === 'value' ? readUnit(header) : null;
    if (readingUnit) return { ...plain(field), readingUnit };
  }
  return plain(field);
}

/** Whether a field's cells are numbers, so that their decimal sign counts. */
export function isNumeric(kind: TableKind, field: Field): boolean {
  const spec = (SPECS[kind] as Readonly<Record<string, FieldSpec>>)[field];
  return spec !== undefined && spec.dimension !== 'text';
}

function matchAxis(axis: 'x' | 'y', unit: string | null, projected: boolean): HeaderMatch | null {
  if (unit !== null && METRES_PER[unit] === undefined) return null;
  if (projected || unit !== null) return { ...plain(axis === 'x' ? 'easting' : 'northing'), lengthUnit: unit };
  return {
    ...plain(axis === 'x' ? 'lon' : 'lat'),
    doubt: 'a projected coordinate, if an epsg column or constant stood beside it',
  };
}

/** Metres per unit of length that a header names, e.g. for `easting (km)`; null if the unit is not known. */
export function metresPerUnit(unit: string): number | null {
  return METRES_PER[unit] ?? null;
}

/** The known field whose name is nearest to a header, within a third of its length; null if none is. */
export function nearestField(kind: TableKind, header: string): Field | null {
  if (header.length > LONGEST_WORD) return null;
  const key = bareKey(header);
  let best: Field | null = null;
  let bestEdits = Math.floor(key.length / 3) + 1;
  for (const [name, { field }] of NAMES[kind]) {
    const edits = editDistance(key, name, bestEdits);
    if (edits < bestEdits) {
      best = field;
      bestEdits = edits;
    }
  }
  return best;
}

/**
 * Insertions, deletions and replacements of one letter that turn one text into the other (Levenshtein 1966).
 * @param limit what is at or beyond it is told as it: only the cells near the diagonal are worked out.
 */
export function editDistance(from: string, to: string, limit: number): number {
  if (Math.abs(from.length - to.length) >= limit) return limit;
  let above = Array.from({ length: to.length + 1 }, (_, j) => j);
  for (let i = 1; i <= from.length; i += 1) {
    const row: number[] = [];
    row[0] = i;
    let least = i;
    const [start, end] = [Math.max(1, i - limit), Math.min(to.length, i + limit)];
    for (let j = start; j <= end; j += 1) {
      const replaced = (above[j - 1] ?? limit) + (from[i - 1] === to[j - 1] ? 0 : 1);
      const edits = Math.min(replaced, (above[j] ?? limit) + 1, (row[j - 1] ?? limit) + 1);
      row[j] = edits;
      if (edits < least) least = edits;
    }
    if (least >= limit) return limit;
    above = row;
  }
  return Math.min(limit, above[to.length] ?? limit);
}
