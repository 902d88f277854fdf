export type Coordinate = readonly [lon: number, lat: number];

/** 7 decimals of a degree are about a centimetre (RFC 7946, 11.2): more would say what nobody knows. */
export const rounded = (degrees: number): number => Math.round(degrees * 1e7) / 1e7 + 0;

export const coordinate = (place: { readonly lon: number; readonly lat: number }): Coordinate => [
  rounded(place.lon),
  rounded(place.lat),
];
