import { done, type Outcome } from '../../survey/outcome';
import { BROKEN, joined, lettersAt, orientationIn, type StrippedPhoto, viewOf } from './photo-parts';

/**
 * Whether a part is one that the picture is drawn from: a frame coded by Huffman's way (C0 to C3), its tables, a scan, the
 * restart interval, and APP14, which says how the colours are meant. Null where it calls itself one and is none: a part
 * of another kind must not come through under its name.
 */
function isNeeded(marker: number, data: Uint8Array): boolean | null {
  const [first = 0xff] = data;
  if (marker >= 0xc0 && marker <= 0xc3) return data.length === 6 + 3 * (data[5] ?? 0) || null;
  if (marker === 0xc4) return (data.length >= 17 && (first & 0xee) === 0) || null;
  if (marker === 0xdb) return quantisation(data);
  if (marker === 0xda) return data.length === 4 + 2 * first || null;
  if (marker === 0xdd) return data.length === 2 || null;
  if (marker === 0xee) return data.length === 12 && lettersAt(data, 0, 5) === 'Adobe';
  return marker <= 0xdf ? null : false;
}

/** Quantisation tables have numbers of one byte or of two. */
function quantisation(data: Uint8Array): true | null {
  let at = 0;
  while (at < data.length) {
    const head = data[at] as number;
    if ((head & 0xec) !== 0) return null;
    at += (head & 0x10) === 0 ? 65 : 129;
  }
  return at === data.length || null;
}

const isAlone = (marker: number): boolean => marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7);

/** Markers stand as ITU-T T.81 (1992), annex B has them. */
export function strippedJpeg(bytes: Uint8Array): Outcome<StrippedPhoto> {
  const view = viewOf(bytes);
  const kept: Uint8Array[] = [];
  const left = new Set<string>();
  let orientation = 1;
  let hasScan = false;
  let at = 2;
  while (at + 1 < bytes.length) {
    if (bytes[at] !== 0xff) return BROKEN;
    const marker = bytes[at + 1] as number;
    // A picture within the picture.
    if (marker === 0xd8) return BROKEN;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (marker === 0xd9) {
      if (!hasScan) return BROKEN;
      if (at + 2 < bytes.length) left.add('behind the end');
      const start = orientation === 1 ? START : joined([START, orientationPart(orientation)]);
      const picture = joined([start, ...kept, bytes.subarray(at, at + 2)]);
      return done({ bytes: picture, mediaType: 'image/jpeg', orientation, left: [...left] });
    }
    if (isAlone(marker)) {
      at += 2;
      continue;
    }
    if (at + 4 > bytes.length) return BROKEN;
    const length = view.getUint16(at + 2);
    let end = at + 2 + length;
    if (length < 2 || end > bytes.length) return BROKEN;
    if (marker === 0xda) {
      hasScan = true;
      end = endOfScan(bytes, end);
    }
    const needed = isNeeded(marker, bytes.subarray(at + 4, at + 2 + length));
    if (needed === null) return BROKEN;
    if (needed) kept.push(bytes.subarray(at, end));
    else left.add(nameOf(marker));
    if (marker === 0xe1 && orientation === 1 && lettersAt(bytes, at + 4, 6) === 'Exif\0\0') {
      orientation = orientationIn(bytes.subarray(at + 10, end));
    }
    at = end;
  }
  return BROKEN;
}

const START = Uint8Array.of(0xff, 0xd8);

const nameOf = (marker: number): string =>
  marker === 0xfe ? 'COM' : marker >= 0xe0 && marker <= 0xef ? `APP${marker - 0xe0}` : `0x${marker.toString(16)}`;

/** The first marker behind a scan's data. In the data 0xff is followed by 0, or by a restart, which belongs to it. */
function endOfScan(bytes: Uint8Array, from: number): number {
  for (let at = from; at + 1 < bytes.length; at += 1) {
    if (bytes[at] !== 0xff) continue;
    const next = bytes[at + 1] as number;
    if (next !== 0 && next !== 0xff && !isAlone(next)) return at;
  }
  return bytes.length;
}

/** An Exif part that says the orientation and nothing else. */
function orientationPart(orientation: number): Uint8Array {
  const tiff = [0x4d, 0x4d, 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0, 0, 0, 0, 0];
  return Uint8Array.of(0xff, 0xe1, 0, 8 + tiff.length, 0x45, 0x78, 0x69, 0x66, 0, 0, ...tiff);
}
