import {
  type ColumnMeaning,
  type InventoryColumns,
  type InventoryMapping,
  mappingFor,
} from '../exchange/read/karst-columns';
import { type InventoryFile, readInventoryFile, type TypeWord } from '../exchange/read/karst-features';
import { readRawFile } from '../exchange/read/karst-file';
import type { FeatureFault } from '../exchange/read/karst-raw';
import { featuresMapping, recallFeatures } from '../exchange/read/remembered-features';
import { broughtInto } from '../karst/bring-features';
import { type Counted, countedFeatures } from '../karst/counted';
import { density } from '../karst/density';
import { type FeatureDistance, type Footprint, footprintDistances } from '../karst/distances';
import { type AxesTest, testAxes } from '../karst/long-axes';
import { likelyDuplicates, type Matches } from '../karst/match';
import { type NeighbourIndex, neighbourIndex } from '../karst/nearest-neighbour';
import { type PlacedFeature, placeFeatures, type UnplacedFeature } from '../karst/placed';
import type { SetbackRule } from '../karst/setback-rules';
import { type Setback, setbackAreas } from '../karst/setbacks';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Feature, LocalGrid, Survey } from '../survey/survey';

/** What a file of features comes to under a mapping; the features wait in the worker until they are taken. */
export interface InventoryPreview {
  readonly file: string;
  readonly mapping: InventoryMapping;
  readonly columns: readonly (ColumnMeaning & { readonly samples: readonly string[] })[];
  readonly types: readonly TypeWord[];
  readonly faults: readonly FeatureFault[];
  readonly rows: number;
  readonly unwanted: number;
  readonly features: number;
  /** Of these, in the survey already. */
  readonly known: number;
  /** How many were left out for a fault. */
  readonly leftOut: number;
}

/** Which features are worked with. */
export interface FeatureQuestion {
  readonly features: readonly Feature[];
  readonly grids: readonly LocalGrid[];
  readonly withUnverified: boolean;
}

export interface Measured {
  readonly count: number;
  readonly leftOut: Counted['leftOut'];
  readonly unplaced: readonly UnplacedFeature[];
  readonly neighbours: NeighbourIndex | null;
  readonly axes: AxesTest | null;
}

/** A polygon of the map with what is said of it. */
export interface DrawnArea {
  readonly sid: string;
  readonly properties: Readonly<Record<string, string | number>>;
  readonly coordinates: readonly (readonly (readonly (readonly [lon: number, lat: number])[])[])[];
}

export interface DensityDrawn {
  readonly count: number;
  readonly leftOut: Counted['leftOut'];
  readonly cells: readonly DrawnArea[];
  readonly occupied: number;
  readonly most: number;
  readonly mostPerKm2: number;
}

export interface SetbacksDrawn {
  readonly count: number;
  readonly leftOut: Counted['leftOut'];
  readonly withoutRule: number;
  readonly areas: readonly DrawnArea[];
  readonly within: number;
}

export type Progress = (fraction: number) => void;

/** What the karst worker can be asked. Plain data in, plain data out. */
export interface KarstTable {
  /** Takes a file in hand; without a mapping it is read as a file of these headers was read before. */
  look(
    name: string,
    bytes: Uint8Array,
    survey: Survey,
    mapping: InventoryMapping | null,
    tell: Progress,
  ): Outcome<InventoryPreview>;
  /** The features of the file in hand, and the entry that remembers how it was read. */
  take(): Outcome<{ readonly features: readonly Feature[]; readonly mapping: object | null }>;
  match(question: FeatureQuestion, extraM: number): Matches;
  measure(question: FeatureQuestion): Measured;
  density(question: FeatureQuestion, cellM: number, bandwidthM: number | null): Outcome<DensityDrawn>;
  setbacks(question: FeatureQuestion, rules: readonly SetbackRule[], tell: Progress): SetbacksDrawn;
  distances(
    question: FeatureQuestion,
    footprints: readonly Footprint[],
    withinM: number,
  ): { readonly found: readonly FeatureDistance[]; readonly leftOut: Counted['leftOut'] };
}

const SAMPLES = 3;
const ROWS_SAMPLED = 60;

export function createKarstTable(): KarstTable {
  let inHand: { readonly read: InventoryFile; readonly mapping: InventoryMapping } | null = null;
  return {
    look(name, bytes, survey, asked, tell) {
      const raw = readRawFile(name, bytes, asked ?? {});
      if (!raw.ok) return raw;
      const mapping = asked ?? recallFeatures(survey, raw.value.headers) ?? {};
      const samples = samplesOf(raw.value.features);
      tell(0.3);
      const columns: InventoryColumns = { files: { '*': mapping } };
      const read = readInventoryFile(name, bytes, columns);
      if (!read.ok) return read;
      inHand = { read: read.value, mapping: mappingFor(name, columns) };
      const { faults, features, rows, unwanted, types } = read.value;
      return done({
        file: name,
        mapping,
        columns: read.value.columns.map((column) => ({ ...column, samples: samples.get(column.header) ?? [] })),
        types,
        faults,
        rows,
        unwanted,
        features: features.length,
        known: broughtInto(survey, features).known,
        leftOut: faults.filter(({ leftOut }) => leftOut).length,
      });
    },
    take() {
      if (!inHand) return refuse('nothing_in_hand', 'Choose the file once more.');
      const { read, mapping } = inHand;
      const headers = read.columns.map(({ header }) => header);
      return done({ features: read.features, mapping: featuresMapping(read.file, mapping, headers) });
    },
    match: ({ features, grids }, extraM) => likelyDuplicates(placeFeatures(features, grids).placed, { extraM }),
    measure(question) {
      const { placed, unplaced } = placeFeatures(question.features, question.grids);
      const { features, leftOut } = countedFeatures(placed, question);
      const axes = features.flatMap(({ feature }) => feature.long_axis_deg ?? []);
      return {
        count: features.length,
        leftOut,
        unplaced,
        neighbours: neighbourIndex(features.map(({ place }) => place)),
        axes: testAxes(axes),
      };
    },
    density(question, cellM, bandwidthM) {
      const { features, leftOut } = countedOf(question);
      const found = density(
        features.map(({ place }) => place),
        cellM,
        bandwidthM,
      );
      if (!found) {
        return features.length === 0
          ? refuse('no_features', 'There is no feature to count. Unverified ones are left out unless ticked.')
          : refuse('too_many_cells', 'These cells are too many to draw. Make them larger, or the bandwidth smaller.');
      }
      const value = (cell: (typeof found.cells)[number]): number => cell.kernelPerKm2 ?? cell.perKm2;
      const mostPerKm2 = found.cells.reduce((most, cell) => Math.max(most, value(cell)), 0);
      return done({
        count: features.length,
        leftOut,
        occupied: found.cells.filter(({ count }) => count > 0).length,
        most: found.cells.reduce((most, { count }) => Math.max(most, count), 0),
        mostPerKm2,
        cells: found.cells.map((cell) => ({
          sid: `cell:${cell.column}:${cell.row}`,
          properties: { share: value(cell) / mostPerKm2, label: `${Number(value(cell).toPrecision(2))} per km²` },
          coordinates: [[[...cell.corners, ...cell.corners.slice(0, 1)].map(({ lon, lat }) => [lon, lat] as const)]],
        })),
      });
    },
    setbacks(question, rules, tell) {
      const { features, leftOut } = countedOf(question);
      const { areas, withoutRule } = setbackAreas(features, rules);
      const drawn: DrawnArea[] = [];
      let within = 0;
      for (const area of areas) {
        within += area.features.length;
        drawn.push(setbackDrawn(area));
        tell(within / Math.max(1, features.length));
      }
      return { count: features.length, leftOut, withoutRule: withoutRule.length, areas: drawn, within };
    },
    distances(question, footprints, withinM) {
      const { features, leftOut } = countedOf(question);
      return { found: footprintDistances(footprints, features, withinM), leftOut };
    },
  };
}

function countedOf({ features, grids, withUnverified }: FeatureQuestion): {
  features: readonly PlacedFeature[];
  leftOut: Counted['leftOut'];
} {
  return countedFeatures(placeFeatures(features, grids).placed, { withUnverified });
}

function setbackDrawn({ rule, features, coordinates }: Setback): DrawnArea {
  return {
    sid: `setback:${rule.type}:${features[0] ?? ''}`,
    properties: { type: rule.type, distance_m: rule.distance_m, features: features.length },
    coordinates,
  };
}

function samplesOf(features: Iterable<{ readonly fields: Readonly<Record<string, string>> }>): Map<string, string[]> {
  const samples = new Map<string, string[]>();
  let rows = 0;
  for (const { fields } of features) {
    for (const [header, text] of Object.entries(fields)) {
      const known = samples.get(header) ?? [];
      const sample = text.length > 32 ? `${text.slice(0, 31)}…` : text;
      if (known.length < SAMPLES && !known.includes(sample)) samples.set(header, [...known, sample]);
    }
    rows += 1;
    if (rows >= ROWS_SAMPLED) break;
  }
  return samples;
}
