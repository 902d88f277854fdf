import { ringCrossing } from '../../position/ring-crossing';
import { featureTypeAtStartOf, featureTypeOf } from '../../survey/feature-type';
import { makeId } from '../../survey/ids';
import { done, type Outcome } from '../../survey/outcome';
import type { Feature, Position } from '../../survey/survey';
import { baseName } from './columns';
import {
  type CellOf,
  type ColumnMeaning,
  cellsFrom,
  columnMeanings,
  type FieldSource,
  fieldSources,
  type InventoryColumns,
  type InventoryField,
  mappingFor,
} from './karst-columns';
import { readRawFile } from './karst-file';
import { datumShift, placeOf } from './karst-places';
import { type FeatureFault, fault, type NamedRow, type RawFeature, sayRow } from './karst-raw';
import { mayBeThousands } from './number-text';
import { plainText } from './places-file';
import { withSaid } from './sheet';
import { bareKey, readFeatureStatus, readYesNo } from './vocabulary';
import { readTime } from './when';

/** Seed of the ids of what is read from inventories: fixed, so that the same file gives the same ids everywhere. */
const INVENTORY_SEED = 'inventory';

/** A word that the file calls features by, and what it was taken for. */
export interface TypeWord {
  readonly word: string;
  readonly count: number;
  /** Null: not known here, kept as written and left out of measures. */
  readonly type: string | null;
  /** By the map, or by its own word; `beginning`: by the first words of a longer text, which is a guess. */
  readonly by: 'map' | 'word' | 'beginning' | 'none';
  /** False where the map says that such rows are not wanted. */
  readonly wanted: boolean;
}

export interface InventoryFile {
  readonly file: string;
  readonly features: readonly Feature[];
  readonly faults: readonly FeatureFault[];
  readonly columns: readonly ColumnMeaning[];
  readonly types: readonly TypeWord[];
  /** Rows, records or features of the file; pieces of one count once. */
  readonly rows: number;
  /** Rows that the map says are not wanted. */
  readonly unwanted: number;
}

/**
 * Reads a file of karst features: GeoJSON, CSV or TSV, KML, GPX, or a zip with a shapefile or a KML. Nothing is dropped
 * in silence: each row is a feature, is not wanted by the map, or has a fault that says why it was left out. Columns
 * that are not understood are kept with the feature under `as_read`.
 */
export function readInventoryFile(name: string, bytes: Uint8Array, columns?: InventoryColumns): Outcome<InventoryFile> {
  const base = baseName(name);
  const mapping = mappingFor(base, columns);
  const raw = readRawFile(name, bytes, mapping);
  if (!raw.ok) return raw;
  const meanings = columnMeanings(raw.value.headers, mapping);
  const sources = fieldSources(meanings, mapping);
  const typeSource = sources.get('type');
  const cell = cellsFrom(sources);
  const stem = base.replace(/\.\w+$/, '');
  const faults: FeatureFault[] = [...raw.value.faults];
  const features: Feature[] = [];
  const typeWords = new Map<string, { -readonly [K in keyof TypeWord]: TypeWord[K] }>();
  const shifts: (readonly [number, number])[] = [];
  const keys = new Map<string, number>();
  const unwantedRows = new Set<number>();
  const rows = new Set<number>(raw.value.faults.flatMap(({ row, leftOut }) => (row !== null && leftOut ? [row] : [])));
  const keptHeaders = meanings
    .filter(({ field }) => field === null || KEPT_AS_READ.has(field))
    .map(({ header }) => header);
  for (const each of raw.value.features) {
    rows.add(each.row);
    const type = typeOf(each, typeSource, cell);
    const known = typeWords.get(type.word);
    if (known) known.count += 1;
    else typeWords.set(type.word, { ...type, count: 1 });
    if (!type.wanted) {
      unwantedRows.add(each.row);
      continue;
    }
    const row: NamedRow = { raw: each, file: base, name: cell(each, 'name') };
    const found = placeOf(row, cell, mapping.crs ?? null);
    faults.push(...found.faults);
    if (found.shift) shifts.push(found.shift);
    if (found.positions.length === 0) continue;
    if (each.shape === 'area' && hasCrossing(found.positions, each.parts)) {
      tell(
        faults,
        row,
        'bad_geometry',
        'an outline that crosses itself',
        'its outline crosses or touches itself, so that its area and its edge are not to be trusted; it was kept as read.',
      );
    }
    const feature = featureOf(row, found.positions, type.type ?? type.word, cell, stem, keptHeaders, faults);
    const key = `${feature.source}|${feature.external_id ? `${feature.external_id}|${each.piece ?? ''}` : `${feature.type}|${feature.name ?? ''}|${found.positions[0]?.x}|${found.positions[0]?.y}`}`;
    const ordinal = keys.get(key) ?? 0;
    keys.set(key, ordinal + 1);
    features.push(Object.assign(feature, { id: makeId('feature', INVENTORY_SEED, `${key}|${ordinal}`) }));
  }
  const shifted = datumShift(shifts);
  if (shifted) faults.push({ ...shifted, sentence: `${base}: ${shifted.sentence}` });
  return done({
    file: name,
    features,
    faults,
    columns: meanings,
    types: [...typeWords.values()].sort((p, q) => q.count - p.count || (p.word < q.word ? -1 : 1)),
    rows: rows.size,
    unwanted: unwantedRows.size,
  });
}

function hasCrossing(positions: readonly Position[], parts: RawFeature['parts']): boolean {
  const starts = parts.length > 0 ? parts.map(({ from }) => from) : [0];
  return starts.some((from, i) => {
    const ring = positions.slice(from, starts[i + 1] ?? positions.length).map(({ x, y }) => [x, y] as const);
    const [first, last] = [ring[0], ring[ring.length - 1]];
    const isClosed = first !== undefined && last !== undefined && first[0] === last[0] && first[1] === last[1];
    return ringCrossing(isClosed ? ring.slice(0, -1) : ring) !== null;
  });
}

/** Fields whose text says more than what is taken from it. */
const KEPT_AS_READ = new Set<InventoryField>([
  'type',
  'note',
  'status',
  'water',
  'owner_consent',
  'photo',
  'lat_text',
  'lon_text',
  'place_text',
]);

function typeOf(raw: RawFeature, source: FieldSource | undefined, cell: CellOf): Omit<TypeWord, 'count'> {
  const written = source?.header === undefined ? undefined : raw.fields[source.header];
  if (written !== undefined) {
    const word = written.slice(0, 80);
    const meaning = source?.meanings?.get(bareKey(written));
    if (meaning === null) return { word, type: null, by: 'map', wanted: false };
    if (meaning !== undefined) return { word, type: featureTypeOf(meaning), by: 'map', wanted: true };
    const own = featureTypeOf(written);
    if (own) return { word, type: own, by: 'word', wanted: true };
    const beginning = featureTypeAtStartOf(written);
    if (beginning)
      return { word: `${written.trim().split(/[\s,.;:()]+/)[0]} …`, type: beginning, by: 'beginning', wanted: true };
    return { word, type: null, by: 'none', wanted: true };
  }
  const constant = cell(raw, 'type');
  const type = constant === null ? null : featureTypeOf(constant);
  return { word: constant ?? 'unknown', type, by: constant === null ? 'none' : 'map', wanted: true };
}

/** Notes what is odd about a feature that is kept. */
function tell(faults: FeatureFault[], row: NamedRow, code: FeatureFault['code'], read: string, sentence: string): void {
  faults.push(fault(code, row.raw.row, read, `${sayRow(row)}: ${sentence}`, { name: row.name, leftOut: false }));
}

/** A length in metres, also with m or ft behind it; null with a note when it is none. */
function metresOf(row: NamedRow, cell: CellOf, field: InventoryField, faults: FeatureFault[]): number | null {
  const text = cell(row.raw, field);
  if (text === null) return null;
  const parts = /^(\d+(?:[.,]\d+)?)\s*(m|metres?|meters?|м|ft|feet)?\.?$/i.exec(text.trim());
  const value =
    parts && !mayBeThousands(parts[1] as string)
      ? Number((parts[1] as string).replace(',', '.')) * (/^f/i.test(parts[2] ?? '') ? 0.3048 : 1)
      : Number.NaN;
  if (value >= 0 && value <= 10_000) return value;
  const sentence = `${field} says “${text.slice(0, 40)}”, which is no length; it was kept as read and not used.`;
  tell(faults, row, 'bad_value', text, sentence);
  return null;
}

const placeWithin = (position: Position, accuracyM: number, level: 68 | 95): Position => {
  const { x, y, crs } = position;
  return withSaid(withSaid({ x, y, crs }, position), { accuracy_m: accuracyM, accuracy_level: level });
};

function featureOf(
  row: NamedRow,
  places: readonly Position[],
  type: string,
  cell: CellOf,
  stem: string,
  keptHeaders: readonly string[],
  faults: FeatureFault[],
): Omit<Feature, 'id'> {
  const { raw, name } = row;
  const accuracy = metresOf(row, cell, 'accuracy_m', faults);
  const level = cell(raw, 'accuracy_level') === '68' ? 68 : 95;
  const positions =
    accuracy === null || accuracy === 0 ? places : places.map((position) => placeWithin(position, accuracy, level));
  const status = cell(raw, 'status');
  const isTrue = status === null ? null : readYesNo(status);
  const axis = cell(raw, 'long_axis_deg');
  const axisDeg = axis === null ? Number.NaN : Number(axis.replace(',', '.').replace('°', ''));
  if (axis !== null && !(axisDeg >= 0 && axisDeg <= 360))
    tell(faults, row, 'bad_value', axis, `the long axis “${axis.slice(0, 40)}” is no direction; it was not used.`);
  const water = cell(raw, 'water')?.toLowerCase() ?? null;
  const consent = cell(raw, 'owner_consent');
  const given = consent === null ? null : readYesNo(consent);
  const photo = cell(raw, 'photo');
  const observed = cell(raw, 'observed_at');
  const entered = cell(raw, 'entered_at');
  let asRead: Record<string, string> | null = null;
  for (const header of keptHeaders) {
    const text = raw.fields[header];
    if (text === undefined) continue;
    asRead ??= {};
    asRead[header] = text;
  }
  const said: Record<string, unknown> = {
    name,
    parts: raw.parts.length > 0 ? raw.parts : null,
    length_m: metresOf(row, cell, 'length_m', faults),
    width_m: metresOf(row, cell, 'width_m', faults),
    depth_m: metresOf(row, cell, 'depth_m', faults),
    long_axis_deg: axisDeg >= 0 && axisDeg <= 360 ? axisDeg % 180 : null,
    water: water !== null && ['none', 'seasonal', 'perennial'].includes(water) ? water : null,
    external_id: cell(raw, 'external_id'),
    confidentiality: cell(raw, 'confidentiality'),
    owner_consent:
      consent === null ? null : { given: given === null ? 'unknown' : given ? 'yes' : 'no', note: consent },
    observed_at: observed === null ? null : (readTime(observed) ?? observed),
    entered_at: entered === null ? null : (readTime(entered) ?? entered),
    note: plainText(cell(raw, 'note')),
    links: photo === null ? null : [{ kind: 'photo', target: photo }],
    as_read: asRead,
  };
  const feature: Omit<Feature, 'id'> = {
    revised: UNREVISED,
    type,
    status: isTrue === true ? 'field_checked' : ((status === null ? null : readFeatureStatus(status)) ?? 'reported'),
    shape: raw.shape,
    positions,
    source: cell(raw, 'source') ?? stem,
  };
  return withSaid(feature, said);
}

const UNREVISED = { at: null, by: null, count: 0 } as const;
