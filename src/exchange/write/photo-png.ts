import { done, type Outcome } from '../../survey/outcome';
import { BROKEN, joined, lettersAt, orientationIn, type StrippedPhoto, viewOf } from './photo-parts';

/** What a PNG is drawn from (W3C PNG, third edition, 11.2 and 11.3); no text, no time, no Exif, no colour profile. */
const NEEDED = new Set('IHDR PLTE IDAT IEND tRNS gAMA cHRM sRGB cICP sBIT bKGD pHYs acTL fcTL fdAT'.split(' '));

export function strippedPng(bytes: Uint8Array): Outcome<StrippedPhoto> {
  const view = viewOf(bytes);
  const kept: Uint8Array[] = [bytes.subarray(0, 8)];
  const left = new Set<string>();
  let orientation = 1;
  let at = 8;
  while (at + 12 <= bytes.length) {
    const name = lettersAt(bytes, at + 4, 4);
    const end = at + 12 + view.getUint32(at);
    if (end > bytes.length || checksum(bytes.subarray(at + 4, end - 4)) !== view.getUint32(end - 4)) return BROKEN;
    if (NEEDED.has(name)) kept.push(bytes.subarray(at, end));
    else left.add(name);
    if (name === 'eXIf') orientation = orientationIn(bytes.subarray(at + 8, end - 4));
    if (name === 'IEND') {
      if (end < bytes.length) left.add('behind the end');
      return done({ bytes: joined(kept), mediaType: 'image/png', orientation, left: [...left] });
    }
    at = end;
  }
  return BROKEN;
}

/** The cyclic redundancy check of a chunk's name and data (W3C PNG, annex D). */
function checksum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) sum = (CHECKS[(sum ^ byte) & 0xff] as number) ^ (sum >>> 8);
  return (sum ^ 0xffffffff) >>> 0;
}

const CHECKS = Uint32Array.from({ length: 256 }, (_, n) => {
  let check = n;
  for (let bit = 0; bit < 8; bit += 1) check = check & 1 ? 0xedb88320 ^ (check >>> 1) : check >>> 1;
  return check;
});
