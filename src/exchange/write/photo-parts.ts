import { refuse } from '../../survey/outcome';

export interface StrippedPhoto {
  readonly bytes: Uint8Array;
  readonly mediaType: 'image/jpeg' | 'image/png' | 'image/webp';
  /**
   * Which way up it is, 1 to 8 as in Exif (CIPA DC-008, tag 0x0112): the one thing that is said again, in a JPEG, since it
   * would lie on its side without it.
   */
  readonly orientation: number;
  /** Names of the parts that were left behind, each once. */
  readonly left: readonly string[];
}

export const BROKEN = refuse('broken_picture', 'This photo breaks off or is damaged, so nothing of it is given away.');

export const lettersAt = (bytes: Uint8Array, at: number, count: number): string =>
  String.fromCharCode(...bytes.subarray(at, at + count));

export function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

export const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** The orientation in a block of TIFF tags, as Exif has it; 1 where it is not said. */
export function orientationIn(tiff: Uint8Array): number {
  if (tiff.length < 14) return 1;
  const view = viewOf(tiff);
  const order = lettersAt(tiff, 0, 2);
  if (order !== 'II' && order !== 'MM') return 1;
  const little = order === 'II';
  const first = view.getUint32(4, little);
  if (first + 2 > tiff.length) return 1;
  const count = view.getUint16(first, little);
  for (let i = 0; i < count; i += 1) {
    const at = first + 2 + 12 * i;
    if (at + 12 > tiff.length) return 1;
    if (view.getUint16(at, little) !== 0x0112) continue;
    const orientation = view.getUint16(at + 8, little);
    return orientation >= 1 && orientation <= 8 ? orientation : 1;
  }
  return 1;
}
