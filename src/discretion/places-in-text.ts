import { readPlaceText } from '../position/coordinate-text';
import { type LonLat, toLonLat } from '../position/crs';
import { utmZoneOf } from '../position/utm';

/** Of one text. */
const MOST_PIECES = 200;
const DECIMAL = /\d{1,3}[.,]\d{3,}/g;
const METRES = /\d{6,7}(?:[.,]\d+)?/g;
const HAS_FIGURES = /\d{3}|\d\s*[°ºd:]|\d+\D\d+\D\d/;
const WRITTEN = [
  // Squares of the military grid.
  /\b\d{1,2}\s?[C-X]\s?[A-Z]{2}\s?\d{2,5}\s?\d{2,5}\b/giu,
];
/** Length of a degree of latitude, m, rounded. */
const DEGREE_M = 111_000;

/** A place that a text may say. */
export interface TextPlace extends LonLat {
  /** How far it may be from what was meant, because its figures were rounded, m. */
  readonly roundedM: number;
}

/** The places that a text may say, near a place. */
export type TextPlaces = (near: LonLat) => readonly TextPlace[];

/**
 * What a text may say of places: pairs of decimal degrees in either order and with any sign, degrees and minutes with any
 * marks or none, squares of the military grid, and metres of the UTM zone at a place. Too many is better than too few. Null
 * for a text without.
 */
export function placesInText(text: string): TextPlaces | null {
  if (!HAS_FIGURES.test(text)) return null;
  const degrees = [...pairsOf(text, DECIMAL).filter(([p, q]) => p <= 180 && q <= 180), ...partedDegrees(text)];
  const metres = pairsOf(text, METRES);
  const written = WRITTEN.flatMap((pattern) => (text.match(pattern) ?? []).slice(0, MOST_PIECES));
  if (degrees.length + metres.length + written.length === 0) return null;
  return (near) => {
    const [east, north] = [near.lon < 0 ? -1 : 1, near.lat < 0 ? -1 : 1];
    const places: TextPlace[] = degrees.flatMap(([p, q, roundedM]) => [
      { lon: east * p, lat: north * q, roundedM },
      { lon: east * q, lat: north * p, roundedM },
    ]);
    const zone = metres.length > 0 ? utmZoneOf(near) : null;
    if (zone?.ok) {
      for (const [p, q] of metres) {
        for (const [x, y] of [
          [p, q],
          [q, p],
        ] as const) {
          const place = toLonLat({ x, y, crs: zone.value.epsg }, []);
          if (place.ok) places.push({ ...place.value, roundedM: 0 });
        }
      }
    }
    for (const piece of written) {
      const place = readPlaceText(piece, { near });
      if (place.ok) places.push({ ...place.value.lonLat, roundedM: (place.value.cellM ?? 0) / Math.SQRT2 });
    }
    return places.filter(({ lat }) => lat >= -90 && lat <= 90);
  };
}

type Pair = readonly [p: number, q: number, roundedM: number];

/** From the middle to the corner of the square that a figure with so many decimals of a unit stands for. */
const roundedTo = (unitM: number, decimals: number): number => (unitM * 10 ** -decimals) / Math.SQRT2;
const decimalsOf = (number: string): number => number.split(/[.,]/)[1]?.length ?? 0;

/** Each two numbers of a pattern that follow each other, without sign. */
function pairsOf(text: string, pattern: RegExp): Pair[] {
  const found = text.match(pattern);
  if (!found || found.length < 2) return [];
  const numbers = found.slice(0, MOST_PIECES);
  return numbers.slice(1).map((number, i): Pair => {
    const before = numbers[i] as string;
    return [
      numberOf(before),
      numberOf(number),
      roundedTo(DEGREE_M, Math.min(decimalsOf(before), decimalsOf(number))),
    ] as const;
  });
}

const numberOf = (number: string): number => Number(number.replace(',', '.'));

/**
 * Numbers that can be degrees and decimal minutes twice, or degrees, minutes and seconds twice, whatever stands between:
 * 47°45.926'N 10°07.407'E, 47 45 55.6 / 10 07 24.4. Chance makes such pairs too; by chance they lie elsewhere.
 */
function partedDegrees(text: string): Pair[] {
  // A comma stands in a decimal, or between two numbers.
  return [/\d+(?:[.,]\d+)?/g, /\d+(?:\.\d+)?/g].flatMap((pattern) => {
    const numbers = (text.match(pattern) ?? []).slice(0, MOST_PIECES);
    return numbers.flatMap((_, i) => {
      const minutes = [angleOf(numbers.slice(i, i + 2)), angleOf(numbers.slice(i + 2, i + 4))] as const;
      const seconds = [angleOf(numbers.slice(i, i + 3)), angleOf(numbers.slice(i + 3, i + 6))] as const;
      return [minutes, seconds].flatMap(([p, q]): Pair[] =>
        p && q ? [[p.deg, q.deg, Math.max(p.roundedM, q.roundedM)]] : [],
      );
    });
  });
}

/** An angle of its two or three parts; null where they are none. Whole minutes name a square of a mile and no place. */
function angleOf(parts: readonly string[]): { readonly deg: number; readonly roundedM: number } | null {
  const [degrees = '', minutes = '', seconds] = parts;
  const last = seconds ?? minutes;
  if (!/^\d{1,3}$/.test(degrees) || (seconds === undefined && decimalsOf(minutes) === 0)) return null;
  if (seconds !== undefined && !/^\d{1,2}$/.test(minutes)) return null;
  const values = [Number(degrees), numberOf(minutes), numberOf(seconds ?? '0')] as const;
  if (values[0] > 180 || values[1] >= 60 || values[2] >= 60) return null;
  return {
    deg: values[0] + values[1] / 60 + values[2] / 3600,
    roundedM: roundedTo(DEGREE_M / (seconds === undefined ? 60 : 3600), decimalsOf(last)),
  };
}
