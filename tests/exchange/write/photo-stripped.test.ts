import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { strippedPhoto } from '../../../src/exchange/write/photo-stripped';
import { pictureByGdal } from '../../helpers/gdal';
import { exifWithPlace, jpegWithPlace, pngWithPlace, webpWithPlace, XMP } from '../../helpers/made-photos';

function stripped(bytes: Uint8Array) {
  const outcome = strippedPhoto(bytes);
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

const holds = (bytes: Uint8Array, words: string): boolean => Buffer.from(bytes).includes(words);

describe('a photo to be given away', () => {
  it('as a JPEG has no place for GDAL to read any more, and keeps the way up and its dots', async () => {
    const before = jpegWithPlace();
    const given = stripped(before);
    expect((await pictureByGdal('before.jpg', before)).said).toMatchObject({
      EXIF_GPSLatitude: '(37) (24) (36)',
      EXIF_GPSLongitude: '(91) (54) (54)',
      COMMENT: 'at the Slade sink',
    });
    expect(await pictureByGdal('after.jpg', given.bytes)).toEqual({ size: [8, 8], said: { EXIF_Orientation: '6' } });
    expect(given.orientation).toBe(6);
    expect(given.left).toEqual(['APP0', 'APP1', 'APP13', 'COM', 'behind the end']);
    for (const words of ['Slade', 'adobe', 'GPS', 'JFIF']) expect(holds(given.bytes, words)).toBe(false);
  });

  it('as a PNG has no text, no time and no Exif', async () => {
    const before = pngWithPlace();
    const given = stripped(before);
    expect((await pictureByGdal('before.png', before)).said).toMatchObject({ Comment: 'at the Slade sink' });
    expect(await pictureByGdal('after.png', given.bytes)).toEqual({ size: [3, 2], said: {} });
    expect(given.left).toEqual(['tEXt', 'iTXt', 'eXIf', 'tIME', 'behind the end']);
  });

  it('as a WebP has no Exif, no XMP and no profile, and does not claim to', async () => {
    const given = stripped(webpWithPlace());
    expect(given.left).toEqual(['ICCP', 'EXIF', 'XMP']);
    expect(given.bytes[20]).toBe(0);
    expect((await pictureByGdal('after.webp', given.bytes)).size).toEqual([1, 1]);
    for (const words of ['Slade', 'EXIF', 'XMP', XMP]) expect(holds(given.bytes, words)).toBe(false);
  });

  it('stripped again stays as it is', () => {
    for (const made of [jpegWithPlace(), pngWithPlace(), webpWithPlace()]) {
      const once = stripped(made).bytes;
      expect(stripped(once).bytes).toEqual(once);
    }
  });

  it('of another kind is refused, and so is one that breaks off', () => {
    expect(strippedPhoto(Buffer.from('GIF89a'))).toMatchObject({ ok: false, code: 'unknown_picture' });
    expect(strippedPhoto(new Uint8Array())).toMatchObject({ ok: false, code: 'unknown_picture' });
    for (const made of [jpegWithPlace(), pngWithPlace(), webpWithPlace()]) {
      const half = made.subarray(0, made.length / 2);
      expect(strippedPhoto(half)).toMatchObject({ ok: false, code: 'broken_picture' });
    }
  });

  it('never lets a place through, with a byte of it damaged', () => {
    const place = Buffer.from(exifWithPlace().slice(-48));
    const made = [jpegWithPlace(), pngWithPlace(), webpWithPlace()];
    fc.assert(
      fc.property(fc.nat(2), fc.nat(), fc.nat(255), (kind, at, value) => {
        const bytes = Uint8Array.from(made[kind] as Uint8Array);
        bytes[at % bytes.length] = value;
        const outcome = strippedPhoto(bytes);
        if (outcome.ok) expect(Buffer.from(outcome.value.bytes).includes(place)).toBe(false);
      }),
      { numRuns: 1500, seed: 8 },
    );
  });
});
