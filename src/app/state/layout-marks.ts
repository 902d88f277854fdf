import type { Feature, FeatureCollection } from 'geojson';
import type { LayoutState } from './layout-state';

const NONE: FeatureCollection = { type: 'FeatureCollection', features: [] };

/** What was pointed at, and a line that was drawn and has no name yet. While it is drawn the drawing shows itself. */
export function layoutMarks({ placed, sketch, task }: LayoutState): FeatureCollection {
  const shown = task !== 'draw' && sketch ? sketch.vertices : [];
  if (!placed && shown.length === 0) return NONE;
  const features: Feature[] = shown.map(({ lon, lat }, i) => point(lon, lat, endWords(i, shown.length)));
  if (shown.length > 1) {
    const coordinates = shown.map(({ lon, lat }) => [lon, lat]);
    features.push({ type: 'Feature', properties: {}, geometry: { type: 'LineString', coordinates } });
  }
  if (placed) features.push(point(placed.lon, placed.lat, 'here'));
  return { type: 'FeatureCollection', features };
}

const endWords = (i: number, count: number): string => (i === 0 ? 'start' : i === count - 1 ? 'end' : '');

const point = (lon: number, lat: number, label: string): Feature => ({
  type: 'Feature',
  properties: { label },
  geometry: { type: 'Point', coordinates: [lon, lat] },
});
