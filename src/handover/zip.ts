import { Deflate } from 'fflate';

/*
 * A zip (APPNOTE 6.3) that is the same for the same files: names sorted, one fixed time, no attributes of a machine. Files
 * are packed as they come, piece by piece, so that none has to stand in memory as a whole.
 */

export interface ZipMember {
  readonly name: string;
  readonly size: number;
  readonly crc: number;
  readonly deflated: readonly Uint8Array[];
}

/** Pieces are cut to this before they are packed, so that how they came does not show in the bytes. */
const PIECE = 1 << 18;
const LEVEL = 6;
/** 1980-01-01 00:00, the earliest that a zip can say. */
const DOS_TIME = 0;
const DOS_DATE = 0x21;
const UTF8_NAMES = 0x800;
const DEFLATED = 8;
const VERSION = 20;
/** Beyond this a zip needs an extension that not every reader has. */
const MOST_BYTES = 0xffff_fffe;

/** Packs one file; `seen` hears its bytes as they go by. */
export function zipMember(
  name: string,
  pieces: Iterable<Uint8Array>,
  seen: (piece: Uint8Array) => void = () => undefined,
): ZipMember {
  const deflated: Uint8Array[] = [];
  const deflate = new Deflate({ level: LEVEL }, (out) => {
    if (out.length > 0) deflated.push(out.slice());
  });
  let size = 0;
  let crc = 0xffff_ffff;
  for (const piece of evenPieces(pieces)) {
    seen(piece);
    size += piece.length;
    crc = crcOf(piece, crc);
    deflate.push(piece);
  }
  deflate.push(new Uint8Array(0), true);
  if (size > MOST_BYTES) throw new Error(`${name} is too large for a zip`);
  return { name, size, crc: ~crc >>> 0, deflated };
}

function* evenPieces(pieces: Iterable<Uint8Array>): Generator<Uint8Array> {
  // One for all of them: the packer copies what it is given.
  const held = new Uint8Array(PIECE);
  let filled = 0;
  for (const piece of pieces) {
    let from = 0;
    while (from < piece.length) {
      const taken = Math.min(PIECE - filled, piece.length - from);
      held.set(piece.subarray(from, from + taken), filled);
      filled += taken;
      from += taken;
      if (filled < PIECE) continue;
      yield held;
      filled = 0;
    }
  }
  if (filled > 0) yield held.subarray(0, filled);
}

/** Members as one zip, sorted by name. */
export function zipOf(members: readonly ZipMember[]): Uint8Array<ArrayBuffer> {
  const sorted = [...members].sort((p, q) => (p.name < q.name ? -1 : 1));
  const names = sorted.map(({ name }) => new TextEncoder().encode(name));
  const packed = sorted.map(({ deflated }) => deflated.reduce((sum, piece) => sum + piece.length, 0));
  const total = sorted.reduce((sum, _, i) => sum + 76 + 2 * (names[i]?.length ?? 0) + (packed[i] ?? 0), 22);
  if (total > MOST_BYTES) throw new Error('the pack is too large for a zip');
  const zip = new Uint8Array(total);
  const view = new DataView(zip.buffer);
  let at = 0;
  const put = (bytes: Uint8Array): void => {
    zip.set(bytes, at);
    at += bytes.length;
  };
  const put16 = (...values: readonly number[]): void => {
    for (const value of values) {
      view.setUint16(at, value, true);
      at += 2;
    }
  };
  const put32 = (...values: readonly number[]): void => {
    for (const value of values) {
      view.setUint32(at, value, true);
      at += 4;
    }
  };
  const common = (i: number): void => {
    put16(VERSION, UTF8_NAMES, DEFLATED, DOS_TIME, DOS_DATE);
    put32(sorted[i]?.crc ?? 0, packed[i] ?? 0, sorted[i]?.size ?? 0);
    put16(names[i]?.length ?? 0, 0);
  };
  const starts = sorted.map(({ deflated }, i) => {
    const start = at;
    put32(0x0403_4b50);
    common(i);
    put(names[i] as Uint8Array);
    for (const piece of deflated) put(piece);
    return start;
  });
  const directory = at;
  for (const [i, start] of starts.entries()) {
    put32(0x0201_4b50);
    put16(VERSION);
    common(i);
    put16(0, 0, 0);
    put32(0, start);
    put(names[i] as Uint8Array);
  }
  const size = at - directory;
  put32(0x0605_4b50);
  put16(0, 0, sorted.length, sorted.length);
  put32(size, directory);
  put16(0);
  return zip;
}

/** CRC-32 of ISO 3309, the table by its reversed polynomial. */
const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? (value >>> 1) ^ 0xedb8_8320 : value >>> 1;
  return value >>> 0;
});

function crcOf(bytes: Uint8Array, before: number): number {
  let crc = before;
  for (let i = 0; i < bytes.length; i += 1) {
    crc = (CRC_TABLE[(crc ^ (bytes[i] as number)) & 0xff] as number) ^ (crc >>> 8);
  }
  return crc;
}
