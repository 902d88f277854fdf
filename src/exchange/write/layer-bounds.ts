import type { BBox, Geometry, Position } from 'geojson';

/** The bounds of features that come one after the other. */
export interface LayerBounds {
  add(feature: { readonly geometry: Geometry }): void;
  /** West, south, east, north (RFC 7946, 5); west > east where the layer crosses 180°; null when it is empty. */
  bbox(): BBox | null;
}

export function layerBounds(): LayerBounds {
  let south = Infinity;
  let north = -Infinity;
  // Bounds of the longitudes in −180…180 and of the same turned to 0…360: the narrower of the two is the layer's.
  let west = Infinity;
  let east = -Infinity;
  let westTurned = Infinity;
  let eastTurned = -Infinity;
  const visit = ([lon = 0, lat = 0]: Position): void => {
    const turned = lon < 0 ? lon + 360 : lon;
    south = Math.min(south, lat);
    north = Math.max(north, lat);
    west = Math.min(west, lon);
    east = Math.max(east, lon);
    westTurned = Math.min(westTurned, turned);
    eastTurned = Math.max(eastTurned, turned);
  };
  return {
    add: ({ geometry }) => eachPosition(geometry, visit),
    bbox: () => {
      if (west > east) return null;
      if (east - west <= eastTurned - westTurned) return [west, south, east, north];
      const back = (turned: number): number => Number((turned > 180 ? turned - 360 : turned).toFixed(7));
      return [back(westTurned), south, back(eastTurned), north];
    },
  };
}

function eachPosition(geometry: Geometry, visit: (position: Position) => void): void {
  switch (geometry.type) {
    case 'Point':
      visit(geometry.coordinates);
      break;
    case 'LineString':
      for (const position of geometry.coordinates) visit(position);
      break;
    case 'MultiLineString':
      for (const position of geometry.coordinates.flat()) visit(position);
      break;
    case 'MultiPolygon':
      for (const position of geometry.coordinates.flat(2)) visit(position);
      break;
    default:
      throw new Error(`no layer holds a ${geometry.type}`);
  }
}
