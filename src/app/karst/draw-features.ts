import type { Feature as Drawn, FeatureCollection, Point } from 'geojson';
import { disclose } from '../../discretion/disclose';
import { featureLayers } from '../../exchange/write/feature-layers';
import type { Findings } from '../../findings';
import { placeFeatures } from '../../karst/placed';
import { symbolImage } from '../../map/feature-symbols';
import type { Survey } from '../../survey/survey';
import type { DrawnArea } from '../../workers/karst-table';
import type { KarstFeaturesDrawn } from '../state/karst-state';

/** Features as symbols at their places, with the outlines of those that have one: all of them, for the keeper's own eyes. */
export function drawFeatures(survey: Survey, findings: Findings): KarstFeaturesDrawn {
  const { placed } = placeFeatures(survey.features, survey.site.local_grids);
  const layers = featureLayers(disclose(survey, findings, 'surveyor'));
  const points = placed.map(
    ({ feature, place }): Drawn<Point> => ({
      type: 'Feature',
      properties: {
        sid: feature.id,
        symbol: symbolImage(feature.type, feature.status),
        ...(feature.name ? { name: feature.name } : {}),
      },
      geometry: { type: 'Point', coordinates: [place.lon, place.lat] },
    }),
  );
  return {
    of: survey.features,
    feature_points: { type: 'FeatureCollection', features: points },
    feature_lines: outlines(layers.feature_lines),
    feature_areas: outlines(layers.feature_areas),
    places: new Map(placed.map(({ feature, place, r95M }) => [feature.id, { ...place, r95M }])),
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
