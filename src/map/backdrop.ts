import type { FeatureCollection } from 'geojson';
import type { LayerSpecification, SourceSpecification } from 'maplibre-gl';
import type { PictureCorners } from '../position/picture-fit';
import { get, MAP_FONTS, words } from './layer-parts';
import type { Palette } from './palette';

/** A backdrop that is ready to be drawn. Addresses are of the protocol that reads this device's files. */
export type DrawnBackdrop =
  | { readonly kind: 'raster'; readonly tiles: string; readonly minZoom: number; readonly maxZoom: number }
  | {
      readonly kind: 'vector';
      readonly tiles: string;
      readonly minZoom: number;
      readonly maxZoom: number;
      readonly layerNames: readonly string[];
    }
  | { readonly kind: 'picture'; readonly url: string; readonly corners: PictureCorners }
  | { readonly kind: 'underlay'; readonly features: FeatureCollection };

/** The source and every layer of a backdrop; layers begin with this. */
export const BACKDROP = 'backdrop';

/** Backdrops lie under the grid and under everything of the survey. */
export const BACKDROP_BELOW = 'relief';

export function backdropSource(drawn: DrawnBackdrop): SourceSpecification {
  switch (drawn.kind) {
    case 'raster':
      return { type: 'raster', tiles: [drawn.tiles], tileSize: 256, minzoom: drawn.minZoom, maxzoom: drawn.maxZoom };
    case 'vector':
      return { type: 'vector', tiles: [drawn.tiles], minzoom: drawn.minZoom, maxzoom: drawn.maxZoom };
    case 'picture': {
      const [a, b, c, d] = drawn.corners.map(({ lon, lat }): [number, number] => [lon, lat]);
      return { type: 'image', url: drawn.url, coordinates: [a, b, c, d] as [Corner, Corner, Corner, Corner] };
    }
    case 'underlay':
      return { type: 'geojson', data: drawn.features, tolerance: 0, maxzoom: 24 };
  }
}

type Corner = [number, number];

/**
 * Layers of a backdrop, from the ground up; `opacity` is 0 to 1. Maps of others are drawn in our own pale ink, by
 * geometry, whatever their layers are called; water is told by its name.
 */
export function backdropLayers(drawn: DrawnBackdrop, palette: Palette, opacity: number): LayerSpecification[] {
  const source = BACKDROP;
  if (drawn.kind === 'raster' || drawn.kind === 'picture') {
    return [{ id: BACKDROP, type: 'raster', source, paint: { 'raster-opacity': opacity, 'raster-fade-duration': 0 } }];
  }
  if (drawn.kind === 'underlay') return inkLayers('', { source }, palette, opacity);
  return drawn.layerNames.flatMap((name) => [
    {
      id: `${BACKDROP}_area_${name}`,
      type: 'fill' as const,
      source,
      'source-layer': name,
      filter: ['==', ['geometry-type'], 'Polygon'] as const as never,
      paint: {
        'fill-color': /water|ocean|lake|sea/i.test(name) ? palette.contourIndex : palette.grid,
        'fill-opacity': 0.5 * opacity,
      },
    },
    ...inkLayers(`_${name}`, { source, 'source-layer': name }, palette, opacity),
  ]);
}

function inkLayers(
  suffix: string,
  from: { readonly source: string; readonly 'source-layer'?: string },
  palette: Palette,
  opacity: number,
): LayerSpecification[] {
  return [
    {
      id: `${BACKDROP}_line${suffix}`,
      type: 'line',
      ...from,
      filter: ['!=', ['geometry-type'], 'Point'],
      paint: { 'line-color': palette.quiet, 'line-width': 1.2, 'line-opacity': opacity },
    },
    {
      id: `${BACKDROP}_point${suffix}`,
      type: 'circle',
      ...from,
      filter: ['==', ['geometry-type'], 'Point'],
      paint: { 'circle-radius': 2.5, 'circle-color': palette.quiet, 'circle-opacity': opacity },
    },
    {
      id: `${BACKDROP}_name${suffix}`,
      type: 'symbol',
      ...from,
      minzoom: 13,
      filter: ['has', 'name'],
      layout: {
        'text-field': get('name'),
        'text-font': MAP_FONTS,
        'text-size': 12,
        'text-anchor': 'top',
        'text-offset': [0, 0.4],
      },
      paint: { ...words(palette, palette.quiet), 'text-opacity': opacity },
    },
  ];
}
