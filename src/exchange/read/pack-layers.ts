import { emptySurvey } from '../../survey/empty-survey';
import { type Outcome, refuse } from '../../survey/outcome';
import type { Survey } from '../../survey/survey';
import { readSurveyDocument } from '../../survey/versions';
import { counted } from '../../survey/wording';
import type { Notebook } from './notebook';

/*
 * Lines and karst features out of the layers of a pack. What was computed is not taken for what was read: figures are no
 * readings, and zones are found again only from readings.
 */

type Json = Readonly<Record<string, unknown>>;
type Place = readonly number[];
interface Row {
  readonly sid: string;
  readonly properties: Json;
  readonly type: string;
  readonly coordinates: unknown;
}

const NEW = { at: null, by: null, count: 0 };
const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const READ_LAYERS = ['lines', 'controls', 'feature_points', 'feature_lines', 'feature_areas'] as const;

/** How deep the coordinates of a geometry are nested (RFC 7946, 3.1). */
const DEPTHS: Readonly<Record<string, number>> = { Point: 1, MultiLineString: 3, MultiPolygon: 4 };

const isNested = (value: unknown, depth: number): boolean =>
  Array.isArray(value) && (depth === 1 || value.every((member) => isNested(member, depth - 1)));

const hasPlaces = ({ type, coordinates }: Row): boolean => {
  const depth = Object.hasOwn(DEPTHS, type) ? DEPTHS[type] : undefined;
  return depth !== undefined && isNested(coordinates, depth);
};

/**
 * A survey of what a pack without one tells. Refusals, for layers that were written over: `bad_layer`, and those of
 * `readSurveyDocument`.
 */
export function surveyOfLayers(metadata: Json, layers: ReadonlyMap<string, unknown>, notes: Notebook): Outcome<Survey> {
  const title = typeof metadata.title === 'string' ? metadata.title : 'A pack';
  const base = emptySurvey(`pack ${title}`, title);
  const rows = (layer: string): readonly Row[] => rowsOf(layers.get(layer));
  const broken = READ_LAYERS.find((layer) => !rows(layer).every(hasPlaces));
  if (broken !== undefined) {
    return refuse('bad_layer', `A row of ${broken} in this pack has no place that can be read.`);
  }
  const controls = rows('controls');
  const lines = rows('lines').map((line) => lineOf(line, controls));
  const features = ['feature_points', 'feature_lines', 'feature_areas'].flatMap((layer) => rows(layer).map(featureOf));
  const skip = (layer: string, what: string, why: string): void => {
    const { length } = rows(layer);
    if (length === 0) return;
    notes.skipped(
      { row: null, column: layer },
      layer,
      what,
      `${notes.label}: ${counted(length, 'row')} of ${layer} left out. ${why}`,
    );
  };
  skip('midpoints', 'readings', 'These are figures that were computed; what the meter showed is not in this pack.');
  skip('zones', 'readings', 'Zones are found again from readings, which are not in this pack.');
  skip('setbacks', 'rules', 'Setbacks are drawn by rules, which are not in this pack.');
  const known = (key: string): Json =>
    metadata[key] === null || metadata[key] === undefined ? {} : { [key]: metadata[key] };
  return readSurveyDocument({
    ...base,
    site: {
      ...base.site,
      ...known('invented'),
      ...known('review_status'),
      ...known('reviewer'),
      ...known('review_date'),
    },
    lines,
    features,
  });
}

function rowsOf(layer: unknown): readonly Row[] {
  if (!isObject(layer) || !Array.isArray(layer.features)) return [];
  return layer.features.flatMap((feature: unknown) => {
    if (!isObject(feature) || !isObject(feature.properties) || !isObject(feature.geometry)) return [];
    const { type, coordinates } = feature.geometry;
    return [{ sid: String(feature.properties.sid), properties: feature.properties, type: String(type), coordinates }];
  });
}

const positionOf = ([x, y]: Place, properties: Json): Json => ({
  x,
  y,
  crs: 'EPSG:4326',
  ...(typeof properties.position_uncertainty_95_m === 'number' && {
    accuracy_m: properties.position_uncertainty_95_m,
    accuracy_level: 95,
  }),
  ...(typeof properties.elevation_m === 'number' && { elevation_m: properties.elevation_m }),
});

/** A line by its measured places; where fewer than two were handed over, by its ends. */
function lineOf({ sid, properties, coordinates }: Row, controls: readonly Row[]): Json {
  const own = controls.filter((control) => control.properties.line === properties.line);
  const parts = coordinates as readonly (readonly Place[])[];
  const ends = [
    { at: parts[0]?.[0], chainageM: 0 },
    { at: parts[parts.length - 1]?.at(-1), chainageM: properties.length_m },
  ];
  const path =
    own.length >= 2
      ? own.map((control) => ({
          id: control.sid,
          kind: 'fix',
          chainage_m: control.properties.chainage_m,
          position: {
            ...positionOf(control.coordinates as Place, control.properties),
            ...(typeof control.properties.source === 'string' && { source: control.properties.source }),
          },
        }))
      : ends.map(({ at, chainageM }, i) => ({
          id: `${sid}:end:${i + 1}`,
          kind: 'fix',
          chainage_m: chainageM,
          position: positionOf(at ?? [], {}),
        }));
  const hookup = String(properties.hookup ?? '');
  return {
    id: sid,
    revised: NEW,
    name: properties.line,
    // Several hookups on one line are of its readings, which are not here.
    ...(hookup !== '' && !hookup.includes(';') && { hookup }),
    path,
    profile: [],
  };
}

const TEXTS = ['name', 'water', 'external_id', 'source', 'confidentiality', 'observed_at', 'note'] as const;
const NUMBERS = ['length_m', 'width_m', 'depth_m', 'long_axis_deg', 'generalised_grid_m'] as const;

function featureOf({ sid, properties, type, coordinates }: Row): Json {
  const said = [...TEXTS, ...NUMBERS].flatMap((key) => {
    const value = properties[key];
    return value === null || value === undefined ? [] : [[key, value] as const];
  });
  const places: Place[] = [];
  const parts: { from: number; hole?: boolean }[] = [];
  const add = (path: readonly Place[], isHole: boolean): void => {
    parts.push({ from: places.length, ...(isHole && { hole: true }) });
    places.push(...path);
  };
  if (type === 'Point') places.push(coordinates as Place);
  else if (type === 'MultiLineString') for (const path of coordinates as readonly Place[][]) add(path, false);
  else
    for (const rings of coordinates as readonly Place[][][])
      rings.forEach((ring, i) => {
        add(ring, i > 0);
      });
  return {
    id: sid,
    revised: NEW,
    type: properties.type,
    status: properties.status,
    shape: type === 'Point' ? 'point' : type === 'MultiLineString' ? 'line' : 'area',
    positions: places.map((place) => positionOf(place, properties)),
    ...(parts.length > 1 && { parts }),
    ...Object.fromEntries(said),
  };
}
