import { crc32 } from 'node:zlib';
import { zlibSync } from 'fflate';

/*
 * Pictures written byte by byte, as a camera would leave them: with its place, time and name inside. The formats as their
 * standards have them: JPEG ITU-T T.81, Exif CIPA DC-008, PNG (W3C), WebP RFC 9649.
 */

const text = (words: string): number[] => [...words].map((letter) => letter.charCodeAt(0));
const two = (value: number): number[] => [value >> 8, value & 255];
const four = (value: number): number[] => [...two(value >>> 16), ...two(value & 0xffff)];

/** A block of tags, high byte first: orientation 6 and 37° 24′ 36″ N, 91° 54′ 54″ W. */
export function exifWithPlace(): number[] {
  const entry = (tag: number, type: number, count: number, value: number[]): number[] => [
    ...two(tag),
    ...two(type),
    ...four(count),
    ...value,
  ];
  const gpsAt = 8 + 2 + 2 * 12 + 4;
  const numbersAt = gpsAt + 2 + 4 * 12 + 4;
  const degrees = (parts: readonly number[]): number[] => parts.flatMap((part) => [...four(part), ...four(1)]);
  return [
    ...text('MM'),
    ...two(42),
    ...four(8),
    ...two(2),
    ...entry(0x0112, 3, 1, [...two(6), 0, 0]),
    ...entry(0x8825, 4, 1, four(gpsAt)),
    ...four(0),
    ...two(4),
    ...entry(1, 2, 2, [...text('N'), 0, 0, 0]),
    ...entry(2, 5, 3, four(numbersAt)),
    ...entry(3, 2, 2, [...text('W'), 0, 0, 0]),
    ...entry(4, 5, 3, four(numbersAt + 24)),
    ...four(0),
    ...degrees([37, 24, 36]),
    ...degrees([91, 54, 54]),
  ];
}

export const XMP = '<x:xmpmeta xmlns:x="adobe:ns:meta/"><exif:GPSLatitude>37,24.6N</exif:GPSLatitude></x:xmpmeta>';

const part = (marker: number, data: number[]): number[] => [0xff, marker, ...two(data.length + 2), ...data];

/** Eight by eight dots of one grey: every coefficient is 0. */
export function jpegWithPlace(): Uint8Array<ArrayBuffer> {
  const codes = (table: number): number[] => part(0xc4, [table, 1, ...Array(15).fill(0), 0]);
  return Uint8Array.from([
    0xff,
    0xd8,
    ...part(0xe0, [...text('JFIF'), 0, 1, 1, 0, 0, 1, 0, 1, 0, 0]),
    ...part(0xe1, [...text('Exif'), 0, 0, ...exifWithPlace()]),
    ...part(0xe1, [...text('http://ns.adobe.com/xap/1.0/'), 0, ...text(XMP)]),
    ...part(0xed, [...text('Photoshop 3.0'), 0, ...text('8BIM Slade sink')]),
    ...part(0xfe, text('at the Slade sink')),
    ...part(0xdb, [0, ...Array(64).fill(1)]),
    ...part(0xc0, [8, 0, 8, 0, 8, 1, 1, 0x11, 0]),
    ...codes(0x00),
    ...codes(0x10),
    ...part(0xda, [1, 1, 0, 0, 63, 0]),
    0x3f,
    0xff,
    0xd9,
    ...text('a second picture behind the end, GPS and all'),
  ]);
}

/** Three by two dots of one colour. */
export function pngWithPlace(): Uint8Array<ArrayBuffer> {
  const chunk = (name: string, data: Iterable<number>): number[] => {
    const body = [...text(name), ...data];
    return [...four(body.length - 4), ...body, ...four(crc32(Uint8Array.from(body)))];
  };
  const rows = Uint8Array.from({ length: 2 * 10 }, (_, i) => (i % 10 === 0 ? 0 : 120));
  return Uint8Array.from([
    0x89,
    ...text('PNG\r\n'),
    0x1a,
    0x0a,
    ...chunk('IHDR', [...four(3), ...four(2), 8, 2, 0, 0, 0]),
    ...chunk('tEXt', text('Comment\0at the Slade sink')),
    ...chunk('iTXt', text(`XML:com.adobe.xmp\0\0\0\0\0${XMP}`)),
    ...chunk('eXIf', exifWithPlace()),
    ...chunk('tIME', [...two(2026), 5, 12, 10, 0, 0]),
    ...chunk('IDAT', zlibSync(rows)),
    ...chunk('IEND', []),
    ...text('behind'),
  ]);
}

/** One dot, lossless, in the extended form. */
export function webpWithPlace(): Uint8Array<ArrayBuffer> {
  const low = (value: number): number[] => four(value).reverse();
  const chunk = (name: string, data: number[]): number[] => [
    ...text(name),
    ...low(data.length),
    ...data,
    ...(data.length % 2 === 1 ? [0] : []),
  ];
  // The smallest lossless picture that is passed around in public; a browser decodes it (tests/browser/many-surveys).
  const dot = [0x2f, 0, 0, 0, 0x10, 0x07, 0x10, 0x11, 0x11, 0x88, 0x88, 0xfe, 0x07];
  const chunks = [
    ...text('WEBP'),
    ...chunk('VP8X', [0x2c, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
    ...chunk('ICCP', text('made by Slade')),
    ...chunk('VP8L', dot),
    ...chunk('EXIF', exifWithPlace()),
    ...chunk('XMP ', text(XMP)),
  ];
  return Uint8Array.from([...text('RIFF'), ...low(chunks.length), ...chunks]);
}
