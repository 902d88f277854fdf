import type { Feature as Drawn, FeatureCollection, Point } from 'geojson';
import { disclose } from '../../discretion/disclose';
import { featureLayers } from '../../exchange/write/feature-layers';
import type { Findings } from '../../findings';
import { placeFeature } from '../../karst/placed';
import { symbolImage } from '../../map/feature-symbols';
import type { Feature, LocalGrid, Survey } from '../../survey/survey';
import type { DrawnArea } from '../../workers/karst-table';
import type { KarstFeaturesDrawn, KarstPlace } from '../state/karst-state';

interface OneDrawn {
  readonly place: KarstPlace;
  readonly point: Drawn<Point>;
}

/** Of features that did not change. A feature that was edited is another object. */
export interface DrawnBefore {
  readonly grids: readonly LocalGrid[];
  readonly each: WeakMap<Feature, OneDrawn | null>;
}

/** Features drawn between two looks at the clock. */
const SLICE = 500;

/**
 * Features as symbols at their places, with the outlines of those that have one: all of them, for the keeper's own eyes.
 * Yields between slices, so that whoever draws many can let the page breathe.
 */
export function* drawFeatures(
  survey: Survey,
  findings: Findings,
  { each }: DrawnBefore,
): Generator<void, KarstFeaturesDrawn> {
  const { features, site } = survey;
  const points: Drawn<Point>[] = [];
  const places = new Map<string, KarstPlace>();
  for (const [i, feature] of features.entries()) {
    if (i % SLICE === SLICE - 1) yield;
    if (feature.retired) continue;
    let one = each.get(feature);
    if (one === undefined) {
      one = drawnOne(feature, site.local_grids);
      each.set(feature, one);
    }
    if (!one) continue;
    points.push(one.point);
    places.set(feature.id, one.place);
  }
  // Points are drawn by their places: only what has an outline is made into a layer.
  const outlined = features.filter(({ shape }) => shape !== 'point');
  const layers = featureLayers(disclose({ ...survey, features: outlined }, findings, 'surveyor'));
  return {
    of: features,
    feature_points: { type: 'FeatureCollection', features: points },
    feature_lines: outlines(layers.feature_lines),
    feature_areas: outlines(layers.feature_areas),
    places,
  };
}

function drawnOne(feature: Feature, grids: readonly LocalGrid[]): OneDrawn | null {
  const placed = placeFeature(feature, grids);
  if ('sentence' in placed) return null;
  const { lon, lat } = placed.place;
  return {
    place: { lon, lat, r95M: placed.r95M },
    point: {
      type: 'Feature',
      properties: {
        sid: feature.id,
        symbol: symbolImage(feature.type, feature.status),
        ...(feature.name ? { name: feature.name } : {}),
      },
      geometry: { type: 'Point', coordinates: [lon, lat] },
    },
  };
}

/** The map carries every property into every tile: an outline needs its `sid` only. */
const outlines = ({ features }: FeatureCollection): FeatureCollection => ({
  type: 'FeatureCollection',
  features: features.map(({ geometry, properties }) => ({
    type: 'Feature',
    properties: { sid: properties?.sid },
    geometry,
  })),
});

export const areasDrawn = (areas: readonly DrawnArea[]): FeatureCollection => ({
  type: 'FeatureCollection',
  features: areas.map(({ sid, properties, coordinates }) => ({
    type: 'Feature',
    properties: { sid, ...properties },
    geometry: {
      type: 'MultiPolygon',
      coordinates: coordinates.map((rings) => rings.map((ring) => ring.map((corner) => [...corner]))),
    },
  })),
});
