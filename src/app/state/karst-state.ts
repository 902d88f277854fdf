import type { FeatureCollection } from 'geojson';
import type { Feature } from '../../survey/survey';

export interface KarstPlace {
  readonly lon: number;
  readonly lat: number;
  readonly r95M: number;
}

/** Features as the map draws them, and where each lies. */
export interface KarstFeaturesDrawn {
  /** The features that they were drawn from: another list is drawn anew. */
  readonly of: readonly Feature[];
  readonly feature_points: FeatureCollection;
  readonly feature_lines: FeatureCollection;
  readonly feature_areas: FeatureCollection;
  readonly places: ReadonlyMap<string, KarstPlace>;
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
