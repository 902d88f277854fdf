import type { Geometry, Position } from 'geojson';

/**
 * What RFC 7946 asks beyond what validators check (section in brackets); returns every breach as a sentence.
 * An empty list is conformity as far as this looks.
 */
export function rfc7946Breaches(text: string): string[] {
  const breaches: string[] = [];
  if (text.charCodeAt(0) === 0xfeff) breaches.push('starts with a byte order mark (RFC 8259, 8.1)');
  const document = JSON.parse(text) as Record<string, unknown>;
  if (document.type !== 'FeatureCollection') breaches.push('is not a FeatureCollection');
  if ('crs' in document) breaches.push('has a crs member (4)');
  for (const member of ['coordinates', 'geometry', 'properties']) {
    if (member in document) breaches.push(`a FeatureCollection has a "${member}" member (7.1)`);
  }
  const features = document.features as { id?: unknown; geometry: Geometry | null; properties: unknown }[];
  const ids = new Set<unknown>();
  const lons: number[] = [];
  const lats: number[] = [];
  for (const [i, feature] of features.entries()) {
    const say = (what: string) => breaches.push(`feature ${i}: ${what}`);
    if (typeof feature.id !== 'string') say('its id is not a string (3.2)');
    if (ids.has(feature.id)) say('its id is not its own');
    ids.add(feature.id);
    if (typeof feature.properties !== 'object' || Array.isArray(feature.properties))
      say('properties are no object (3.2)');
    for (const [key, value] of Object.entries(feature.properties ?? {})) {
      if (typeof value === 'object' && value !== null) say(`property ${key} is nested`);
    }
    if (feature.geometry) {
      for (const position of positionsOf(feature.geometry)) {
        const [lon = Number.NaN, lat = Number.NaN] = position;
        if (position.length !== 2) say('a position has not two numbers');
        if (!(Math.abs(lon) <= 180 && Math.abs(lat) <= 90)) say(`${lon}, ${lat} is not on the Earth (4)`);
        if (Number(lon.toFixed(7)) !== lon || Number(lat.toFixed(7)) !== lat) say('more than 7 decimals (11.2)');
        lons.push(lon);
        lats.push(lat);
      }
      for (const path of pathsOf(feature.geometry)) {
        if (path.length < 2) say('a line of one position (3.1.4)');
        path.forEach((position, k) => {
          const before = path[k - 1];
          if (!before) return;
          if (before[0] === position[0] && before[1] === position[1]) say('a vertex stands twice');
          if (Math.abs((before[0] ?? 0) - (position[0] ?? 0)) > 180) say('crosses 180° uncut (3.1.9)');
        });
      }
      for (const rings of polygonsOf(feature.geometry)) {
        rings.forEach((ring, k) => {
          if (ring.length < 4) say('a ring of fewer than four positions (3.1.6)');
          if (String(ring[0]) !== String(ring[ring.length - 1])) say('a ring is not closed (3.1.6)');
          if (turns(ring) > 0 !== (k === 0)) say('a ring is wound the wrong way (3.1.6)');
        });
      }
    }
  }
  const bbox = document.bbox as number[] | undefined;
  if (lons.length > 0) {
    if (bbox?.length !== 4) breaches.push('has no bbox of four numbers (5)');
    else {
      const [west = 0, south = 0, east = 0, north = 0] = bbox;
      const within = (lon: number) => (west <= east ? lon >= west && lon <= east : lon >= west || lon <= east);
      if (!lons.every(within)) breaches.push('its bbox leaves longitudes out (5)');
      if (south !== Math.min(...lats) || north !== Math.max(...lats)) breaches.push('its bbox has other latitudes (5)');
    }
  } else if (bbox) breaches.push('has a bbox round nothing');
  return breaches;
}

const turns = (ring: readonly Position[]): number =>
  ring.reduce((sum, [x = 0, y = 0], i) => {
    const [px = 0, py = 0] = ring[i - 1] ?? [x, y];
    return sum + px * y - x * py;
  }, 0);

function polygonsOf(geometry: Geometry): Position[][][] {
  if (geometry.type === 'Polygon') return [geometry.coordinates];
  return geometry.type === 'MultiPolygon' ? geometry.coordinates : [];
}

function pathsOf(geometry: Geometry): Position[][] {
  if (geometry.type === 'LineString') return [geometry.coordinates];
  if (geometry.type === 'MultiLineString') return geometry.coordinates;
  return polygonsOf(geometry).flat();
}

function positionsOf(geometry: Geometry): Position[] {
  if (geometry.type === 'Point') return [geometry.coordinates];
  return pathsOf(geometry).flat();
}
