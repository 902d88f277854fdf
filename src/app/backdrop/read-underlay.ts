import type { Feature, FeatureCollection } from 'geojson';
import { Notebook } from '../../exchange/read/notebook';
import { placesFormatOf, readPlacesFile } from '../../exchange/read/read-places';
import { done, type Outcome, refuse } from '../../survey/outcome';

/** Points and lines of a GPX, KML or GeoJSON file, to be drawn and not to be tapped. Refusal: `no_places`. */
export function readUnderlay(name: string, bytes: Uint8Array): Outcome<FeatureCollection> {
  const format = placesFormatOf(name, bytes);
  const notes = new Notebook(name);
  const places = format && format !== 'table' ? readPlacesFile(bytes, format, notes) : null;
  if (!places || places.points.length + places.lines.length === 0) {
    const [first] = notes.all();
    return refuse('no_places', first?.sentence ?? `${name} has no points and no lines in it.`);
  }
  const named = (label: string | null) => (label === null ? {} : { name: label });
  const features: Feature[] = [
    ...places.lines.map(
      ({ name: label, vertices }): Feature => ({
        type: 'Feature',
        properties: named(label),
        geometry: { type: 'LineString', coordinates: vertices.map(({ lonLat: { lon, lat } }) => [lon, lat]) },
      }),
    ),
    ...places.points.map(
      ({ name: label, lonLat: { lon, lat } }): Feature => ({
        type: 'Feature',
        properties: named(label),
        geometry: { type: 'Point', coordinates: [lon, lat] },
      }),
    ),
  ];
  return done({ type: 'FeatureCollection', features });
}
