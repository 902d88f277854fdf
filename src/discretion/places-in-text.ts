import { readPlaceText } from '../position/coordinate-text';
import { type LonLat, toLonLat } from '../position/crs';
import { utmZoneOf } from '../position/utm';

/** Of one text. */
const MOST_PIECES = 200;
const DECIMAL = /\d{1,3}[.,]\d{3,}/g;
const METRES = /\d{6,7}(?:[.,]\d+)?/g;
const HAS_FIGURES = /\d{3}|\d\s*[°ºd]/;
const WRITTEN = [
  // Degrees with minutes, and seconds.
  /\d{1,3}\s*[°º][^;]{0,24}?[NS]\b[^\d;]{0,6}\d{1,3}\s*[°º][^;]{0,24}?[EWO]\b/giu,
  /[NS]\s*\d{1,3}\s*[°º][^;]{0,24}?[EWO]\s*\d{1,3}\s*[°º][\d\s.,'"′″’”]{0,24}/giu,
  // Squares of the military grid.
  /\b\d{1,2}\s?[C-X]\s?[A-Z]{2}\s?\d{2,5}\s?\d{2,5}\b/giu,
];

/** The places that a text may say, near a place. */
export type TextPlaces = (near: LonLat) => readonly LonLat[];

/**
 * What a text may say of places: pairs of decimal degrees in either order and with any sign, degrees and minutes, squares
 * of the military grid, and metres of the UTM zone at a place. Too many is better than too few. Null for a text without.
 */
export function placesInText(text: string): TextPlaces | null {
  if (!HAS_FIGURES.test(text)) return null;
  const degrees = pairsOf(text, DECIMAL).filter(([p, q]) => p <= 180 && q <= 180);
  const metres = pairsOf(text, METRES);
  const written = WRITTEN.flatMap((pattern) => (text.match(pattern) ?? []).slice(0, MOST_PIECES));
  if (degrees.length + metres.length + written.length === 0) return null;
  return (near) => {
    const [east, north] = [near.lon < 0 ? -1 : 1, near.lat < 0 ? -1 : 1];
    const places = degrees.flatMap(([p, q]) => [
      { lon: east * p, lat: north * q },
      { lon: east * q, lat: north * p },
    ]);
    const zone = metres.length > 0 ? utmZoneOf(near) : null;
    if (zone?.ok) {
      for (const [p, q] of metres) {
        for (const [x, y] of [
          [p, q],
          [q, p],
        ] as const) {
          const place = toLonLat({ x, y, crs: zone.value.epsg }, []);
          if (place.ok) places.push(place.value);
        }
      }
    }
    for (const piece of written) {
      const place = readPlaceText(piece, { near });
      if (place.ok) places.push(place.value.lonLat);
    }
    return places.filter(({ lat }) => lat >= -90 && lat <= 90);
  };
}

/** Each two numbers of a pattern that follow each other, without sign. */
function pairsOf(text: string, pattern: RegExp): (readonly [number, number])[] {
  const found = text.match(pattern);
  if (!found || found.length < 2) return [];
  const numbers = found.slice(0, MOST_PIECES).map((number) => Number(number.replace(',', '.')));
  return numbers.slice(1).map((number, i) => [numbers[i] as number, number] as const);
}
