import { crc32, deflateSync } from 'node:zlib';

type Colour = readonly [red: number, green: number, blue: number];

/** A PNG of one colour, or of a colour by place, by the W3C recommendation (PNG, third edition: IHDR, IDAT, IEND; 8-bit RGB). */
export function madePng(
  width: number,
  height: number,
  colourAt: Colour | ((x: number, y: number) => Colour),
): Uint8Array {
  const rows = Buffer.alloc(height * (1 + 3 * width));
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      // Each row begins with its filter: 0, none.
      rows.set(typeof colourAt === 'function' ? colourAt(x, y) : colourAt, y * (1 + 3 * width) + 1 + 3 * x);
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, 2, 0, 0, 0], 8);
  return new Uint8Array(
    Buffer.concat([
      Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]),
      chunk('IHDR', head),
      chunk('IDAT', deflateSync(rows)),
      chunk('IEND', Buffer.alloc(0)),
    ]),
  );
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const whole = Buffer.alloc(body.length + 8);
  whole.writeUInt32BE(data.length, 0);
  whole.set(body, 4);
  whole.writeUInt32BE(crc32Of(body), body.length + 4);
  return whole;
}

/** Node has it from 20.15 on. */
const crc32Of = (bytes: Buffer): number => crc32(bytes);
