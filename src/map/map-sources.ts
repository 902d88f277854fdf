import type { SourceSpecification } from 'maplibre-gl';
import { clustered, KARST_SOURCES } from './feature-layers';
import { WIDEST_REACH_PX } from './lane-offset';
import type { Picture } from './picture';

/** Sources of what a picture of a survey holds. */
export const PICTURE_SOURCES = [
  'relief',
  'corridors',
  'zones',
  'lines',
  'line_starts',
  'segments',
  'midpoints',
  'electrodes',
  'controls',
  'next_readings',
] as const satisfies readonly (keyof Picture)[];

/** Sources of what is drawn while a line is laid out. */
export const LAID_OUT_SOURCES = ['ellipses', 'stakes', 'handles'] as const;

const SOURCE_NAMES = [
  'grid',
  'grid_labels',
  ...PICTURE_SOURCES,
  'changes',
  'selected_segments',
  'selected_places',
  ...LAID_OUT_SOURCES,
  'here',
  ...KARST_SOURCES,
] as const;
export type SourceName = (typeof SOURCE_NAMES)[number];

/** Every source of the map but a backdrop, with nothing in it. */
export const mapSources = (): Record<string, SourceSpecification> =>
  Object.fromEntries(
    SOURCE_NAMES.map((name) => [name, name === 'feature_points' ? clustered(surveySource()) : surveySource()]),
  );

/** Sources of a survey keep every vertex and every decimetre; features answer to their `sid`. */
function surveySource(): SourceSpecification {
  return {
    type: 'geojson',
    data: { type: 'FeatureCollection', features: [] },
    tolerance: 0,
    // As far as a stroke reaches beside its line: what lies farther outside a tile need not be cut into it.
    buffer: WIDEST_REACH_PX,
    maxzoom: 24,
    promoteId: 'sid',
  };
}
