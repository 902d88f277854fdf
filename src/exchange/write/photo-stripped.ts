import { type Outcome, refuse } from '../../survey/outcome';
import { strippedJpeg } from './photo-jpeg';
import type { StrippedPhoto } from './photo-parts';
import { strippedPng } from './photo-png';
import { strippedWebp } from './photo-webp';

/*
 * A photo as it may be given away. A camera writes into it where and when it was taken, with which device and often a
 * second, smaller picture. Only the parts that a picture needs to be drawn are taken over, by name; all others are left
 * behind, known or not, and so is all that stands behind the picture's end.
 */

/** Refuses what is no JPEG, PNG or WebP (`unknown_picture`), and one that breaks off (`broken_picture`). */
export function strippedPhoto(bytes: Uint8Array): Outcome<StrippedPhoto> {
  if (bytes[0] === 0xff && bytes[1] === 0xd8) return strippedJpeg(bytes);
  if (startsWith(bytes, 0, '\x89PNG\r\n\x1a\n')) return strippedPng(bytes);
  if (startsWith(bytes, 0, 'RIFF') && startsWith(bytes, 8, 'WEBP')) return strippedWebp(bytes);
  return refuse(
    'unknown_picture',
    'This photo is no JPEG, PNG or WebP, so what it says of its place cannot be taken out. Save it as a JPEG first.',
  );
}

const startsWith = (bytes: Uint8Array, at: number, text: string): boolean =>
  [...text].every((letter, i) => bytes[at + i] === letter.charCodeAt(0));
