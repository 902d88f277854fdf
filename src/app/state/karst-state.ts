import type { FeatureCollection } from 'geojson';
import type { Feature } from '../../survey/survey';
import type { Selection } from './app-state';
import { selectedPlace } from './selected-places';

/** Features as the map draws them, and where each lies. */
export interface KarstFeaturesDrawn {
  /** The features that they were drawn from: another list is drawn anew. */
  readonly of: readonly Feature[];
  readonly feature_points: FeatureCollection;
  readonly feature_lines: FeatureCollection;
  readonly feature_areas: FeatureCollection;
  readonly places: ReadonlyMap<string, { readonly lon: number; readonly lat: number; readonly r95M: number }>;
}

/** Something measured that lies on the map, and from which features. */
export interface KarstOverlay {
  readonly of: readonly Feature[];
  readonly drawn: FeatureCollection;
  /** What it is, for the legend. */
  readonly words: string;
}

export type KarstLayer = 'features' | 'density' | 'setbacks';

export interface KarstState {
  readonly drawn: KarstFeaturesDrawn | null;
  readonly density: KarstOverlay | null;
  readonly setbacks: KarstOverlay | null;
  readonly shown: Readonly<Record<KarstLayer, boolean>>;
}

export const NO_KARST: KarstState = {
  drawn: null,
  density: null,
  setbacks: null,
  shown: { features: true, density: true, setbacks: true },
};

/** The circle that holds a selected feature 95 times of 100; null where none is selected. */
export function karstMarks(
  drawn: KarstFeaturesDrawn | null,
  selection: Selection | null,
): ReturnType<typeof selectedPlace> | null {
  if (!drawn || selection?.kind !== 'feature') return null;
  const place = drawn.places.get(selection.sid);
  return place ? selectedPlace(place.lon, place.lat, Math.max(place.r95M, LEAST_RING_M)) : null;
}

/** A circle smaller than this is not seen round a symbol. */
const LEAST_RING_M = 3;
