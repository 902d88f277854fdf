import { done, type Outcome, refuse } from '../survey/outcome';
import { crsOf, type LonLat } from './crs';
import { geodesicDistanceM } from './geodesic';
import { bandEnds, utmEpsg } from './utm';

/** A zone as written: with a word for the hemisphere, or a letter that may be a band or a hemisphere. */
export interface ZoneText {
  readonly zone: number;
  readonly letter: string;
  /** Whether the hemisphere was spelt out. */
  readonly isWord: boolean;
}

const ZONE = /^(?:utm)?\s*(?:zone)?\s*(\d{1,2})\s*(north|south|nord|süd|sud|norte|sur|[a-z])$/i;
const NORTH_WORD = /^nor/i;

/** Reads a UTM zone such as `32N`, `32 T`, `UTM zone 15 north`; null for anything else. */
export function readZone(text: string): ZoneText | null {
  const parts = text.length > 40 ? null : ZONE.exec(text.trim());
  const [zone, word] = [Number(parts?.[1]), parts?.[2] ?? ''];
  if (!parts || zone < 1 || zone > 60) return null;
  const isWord = word.length > 1;
  const letter = isWord ? (NORTH_WORD.test(word) ? 'N' : 'S') : word.toUpperCase();
  return isWord || bandEnds(letter) ? { zone, letter, isWord } : null;
}

/** Both readings of a lone S are kept apart by this much at least, so a known place nearby decides. */
const NEAR_M = 1_000_000;

/**
 * The EPSG code of a zone with the place that was written beside it. N is north either way (band N begins at the
 * equator). S may be the southern hemisphere or band S, 32° to 40° north: the northing decides where it can, else `near`.
 * Refusals: `band_or_hemisphere`, `band_disagrees` when the northing is not in the band named.
 */
export function zoneEpsg(
  { zone, letter, isWord }: ZoneText,
  easting: number,
  northing: number,
  near: LonLat | null = null,
): Outcome<string> {
  if (isWord || letter === 'N') return done(utmEpsg(zone, letter === 'N' ? 'north' : 'south'));
  const band = bandEnds(letter) as readonly [number, number];
  const hemisphere = band[0] >= 0 ? 'north' : 'south';
  const inBand = placeIn(utmEpsg(zone, hemisphere), easting, northing);
  // A hundredth of a degree over the edge: written at the edge, rounded across it.
  const fits = inBand !== null && inBand.lat >= band[0] - 0.01 && inBand.lat <= band[1] + 0.01;
  if (letter !== 'S') {
    if (fits) return done(utmEpsg(zone, hemisphere));
    return refuse(
      'band_disagrees',
      `A northing of ${northing} m is not in band ${letter} of zone ${zone}. Check the northing, or write the zone as "${zone} north" or "${zone} south".`,
    );
  }
  if (!fits) return done(utmEpsg(zone, 'south'));
  const southern = placeIn(utmEpsg(zone, 'south'), easting, northing);
  const isNear = (place: LonLat | null): boolean =>
    near !== null && place !== null && geodesicDistanceM(place, near) < NEAR_M;
  if (isNear(inBand)) return done(utmEpsg(zone, 'north'));
  if (isNear(southern)) return done(utmEpsg(zone, 'south'));
  return refuse(
    'band_or_hemisphere',
    `"${zone}S" may be band S (latitude ${inBand.lat.toFixed(1)}° north) or the southern hemisphere (${Math.abs(southern?.lat ?? 0).toFixed(1)}° south). Write "${zone} north" or "${zone} south" instead.`,
  );
}

function placeIn(epsg: string, easting: number, northing: number): LonLat | null {
  const crs = crsOf(epsg);
  if (!crs.ok) return null;
  const place = crs.value.toLonLat(easting, northing);
  return Number.isFinite(place.lat) && Number.isFinite(place.lon) ? place : null;
}

const SINGLE = /^[+-]?(?:0|[1-9]\d*)(?:[.,]\d+)?$/;
// A group of thousands never begins with a nought.
const GROUPED = /^[+-]?[1-9]\d{0,2}(?:[ ']\d{3})+(?:[.,]\d+)?$/;
const COMMA_GROUPED = /^[+-]?[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?$/;

/** A number of metres, its commas being of thousands or of decimals; null where they cannot be that. */
function metresOf(text: string, comma: 'thousands' | 'decimal'): number | null {
  if (comma === 'thousands' && text.includes(',')) {
    return COMMA_GROUPED.test(text) ? Number(text.replaceAll(',', '')) : null;
  }
  return SINGLE.test(text) || GROUPED.test(text) ? Number(text.replace(/[ ']/g, '').replace(',', '.')) : null;
}

/** Every way in which two texts are two numbers: 47,123 may be forty-seven thousand or forty-seven and a bit. */
const pairsOf = (first: string, second: string): (readonly [number, number])[] =>
  (['thousands', 'decimal'] as const).flatMap((comma) => {
    const pair = [metresOf(first, comma), metresOf(second, comma)] as const;
    return pair[0] !== null && pair[1] !== null ? [[pair[0], pair[1]] as const] : [];
  });

/** The one pair among all that were found, however often; null for none or for more. */
function onlyPair(pairs: readonly (readonly [number, number])[]): readonly [number, number] | null {
  const [first] = pairs;
  return first && pairs.every(([p, q]) => p === first[0] && q === first[1]) ? first : null;
}

/**
 * Two numbers of a grid in one text, easting first: `500000 5200000`, `500 000 5 200 000`, `500000.5, 5200000.25`,
 * `500,000 5,200,000`, `500000 mE 5200000 mN`. Null when they are not there, could be parted in two ways,
 * or have commas that could be of thousands or of decimals: `47,123 10,456`.
 */
export function readMetrePair(text: string): readonly [easting: number, northing: number] | null {
  const marked = /^([\d\s.,'+-]+?)\s*m?\s*([EN])[\s,;]+([\d\s.,'+-]+?)\s*m?\s*([EN])$/i.exec(text.trim());
  if (marked && marked[2]?.toUpperCase() !== marked[4]?.toUpperCase()) {
    const pair = onlyPair(pairsOf((marked[1] ?? '').trim(), (marked[3] ?? '').trim()));
    return pair && marked[2]?.toUpperCase() === 'N' ? [pair[1], pair[0]] : pair;
  }
  const bare = text.replace(/(?<=\d)\s*m\b/gi, '').trim();
  const partings = [...bare.matchAll(/\s*[;|\t]\s*|,\s+|,(?=\d)|\s+/g)];
  return onlyPair(
    partings.flatMap(({ index, 0: mark }) => pairsOf(bare.slice(0, index), bare.slice(index + mark.length))),
  );
}
