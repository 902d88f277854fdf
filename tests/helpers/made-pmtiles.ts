/**
 * A PMTiles archive of version 3 with one tile, 0/0/0, byte by byte by the public specification (PMTiles Version 3
 * Specification, protomaps/PMTiles, spec/v3/spec.md): 127 bytes of header, root directory, metadata, tile; nothing compressed.
 */
export function madePmtiles(png: Uint8Array, metadata: object): Uint8Array {
  const said = new TextEncoder().encode(JSON.stringify(metadata));
  // One entry: its count, then the columns tile id, run length, length, offset + 1, all varints.
  const directory = Uint8Array.from([1, 0, 1, ...varint(png.length), 1]);
  const header = Buffer.alloc(127);
  header.write('PMTiles', 0, 'latin1');
  header.writeUInt8(3, 7);
  const parts = [directory.length, said.length, 0, png.length];
  let offset = 127;
  for (const [i, length] of parts.entries()) {
    header.writeBigUInt64LE(BigInt(offset), 8 + 16 * i);
    header.writeBigUInt64LE(BigInt(length), 16 + 16 * i);
    offset += length;
  }
  // Addressed tiles, entries, contents.
  for (const at of [72, 80, 88]) header.writeBigUInt64LE(1n, at);
  // Clustered; directories and tiles not compressed; tiles are PNG; zooms 0 to 0.
  header.set([1, 1, 1, 2, 0, 0], 96);
  const e7 = (degrees: number) => Math.round(degrees * 1e7);
  for (const [i, degrees] of [-180, -85, 180, 85].entries()) header.writeInt32LE(e7(degrees), 102 + 4 * i);
  return new Uint8Array(Buffer.concat([header, directory, said, png]));
}

function varint(value: number): number[] {
  return value < 128 ? [value] : [(value & 127) | 128, ...varint(value >>> 7)];
}
