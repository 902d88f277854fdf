/*
 * Unpacking of deflated data by RFC 1951: stored, fixed and dynamic blocks. Ends at a stated size, so that a small file
 * cannot unpack to more than it says.
 */

const LENGTH_BASE = [
  3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258,
];
const LENGTH_BITS = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
const BACK_BASE = [
  ...[
    1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145,
  ],
  ...[8193, 12289, 16385, 24577],
];
const BACK_BITS = [0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13];
const CODE_ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
const LONGEST_CODE = 15;

/** A prefix code: how many codes of each length there are, and their symbols in order. */
interface Code {
  readonly counts: Uint16Array;
  readonly symbols: Uint16Array;
}

function codeOf(lengths: readonly number[]): Code {
  const counts = new Uint16Array(LONGEST_CODE + 1);
  for (const length of lengths) counts[length] = (counts[length] as number) + 1;
  counts[0] = 0;
  const starts = new Uint16Array(LONGEST_CODE + 2);
  for (let i = 1; i <= LONGEST_CODE; i += 1) starts[i + 1] = (starts[i] as number) + (counts[i] as number);
  const symbols = new Uint16Array(lengths.length);
  lengths.forEach((length, symbol) => {
    if (length === 0) return;
    symbols[starts[length] as number] = symbol;
    starts[length] = (starts[length] as number) + 1;
  });
  return { counts, symbols };
}

const FIXED_LENGTHS = Array.from({ length: 288 }, (_, i) => (i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8));
const FIXED = codeOf(FIXED_LENGTHS);
const FIXED_BACK = codeOf(Array.from({ length: 30 }, () => 5));

class Broken extends Error {}

class Bits {
  private at = 0;
  private held = 0;
  private count = 0;

  constructor(private readonly bytes: Uint8Array) {}

  take(wanted: number): number {
    while (this.count < wanted) {
      const byte = this.bytes[this.at];
      if (byte === undefined) throw new Broken();
      this.at += 1;
      this.held |= byte << this.count;
      this.count += 8;
    }
    const value = this.held & ((1 << wanted) - 1);
    this.held >>>= wanted;
    this.count -= wanted;
    return value;
  }

  symbol({ counts, symbols }: Code): number {
    let [code, first, index] = [0, 0, 0];
    for (let length = 1; length <= LONGEST_CODE; length += 1) {
      code |= this.take(1);
      const count = counts[length] as number;
      if (code - first < count) return symbols[index + code - first] as number;
      index += count;
      first = (first + count) << 1;
      code <<= 1;
    }
    throw new Broken();
  }

  /** Bytes from the next whole one on. */
  copy(length: number, to: Uint8Array, from: number): void {
    this.at -= this.count >> 3;
    this.held = 0;
    this.count = 0;
    if (this.at + length > this.bytes.length) throw new Broken();
    to.set(this.bytes.subarray(this.at, this.at + length), from);
    this.at += length;
  }

  alignedShort(): number {
    this.held >>>= this.count & 7;
    this.count -= this.count & 7;
    return this.take(16);
  }
}

/** Unpacks deflated bytes of a known size; null when they are broken or of another size. */
export function inflate(bytes: Uint8Array, size: number): Uint8Array | null {
  try {
    return unpacked(new Bits(bytes), new Uint8Array(size));
  } catch (error) {
    if (error instanceof Broken) return null;
    throw error;
  }
}

function unpacked(bits: Bits, out: Uint8Array): Uint8Array | null {
  let at = 0;
  for (let last = 0; last === 0; ) {
    last = bits.take(1);
    const kind = bits.take(2);
    if (kind === 3) throw new Broken();
    if (kind === 0) {
      const length = bits.alignedShort();
      if ((bits.take(16) ^ 0xffff) !== length || at + length > out.length) throw new Broken();
      bits.copy(length, out, at);
      at += length;
      continue;
    }
    const [code, back] = kind === 1 ? [FIXED, FIXED_BACK] : dynamicCodes(bits);
    for (let symbol = bits.symbol(code); symbol !== 256; symbol = bits.symbol(code)) {
      if (symbol < 256) {
        if (at >= out.length) throw new Broken();
        out[at] = symbol;
        at += 1;
        continue;
      }
      const [base, extra] = [LENGTH_BASE[symbol - 257], LENGTH_BITS[symbol - 257]];
      if (base === undefined || extra === undefined) throw new Broken();
      const length = base + bits.take(extra);
      const far = bits.symbol(back);
      const distance = (BACK_BASE[far] ?? Number.NaN) + bits.take(BACK_BITS[far] ?? 0);
      if (!(distance <= at) || at + length > out.length) throw new Broken();
      for (let i = 0; i < length; i += 1, at += 1) out[at] = out[at - distance] as number;
    }
  }
  return at === out.length ? out : null;
}

function dynamicCodes(bits: Bits): readonly [Code, Code] {
  const [literals, backs, codes] = [bits.take(5) + 257, bits.take(5) + 1, bits.take(4) + 4];
  const orders = Array.from({ length: 19 }, () => 0);
  for (let i = 0; i < codes; i += 1) orders[CODE_ORDER[i] as number] = bits.take(3);
  const code = codeOf(orders);
  const lengths: number[] = [];
  while (lengths.length < literals + backs) {
    const symbol = bits.symbol(code);
    if (symbol < 16) lengths.push(symbol);
    else {
      const repeated = symbol === 16 ? lengths[lengths.length - 1] : 0;
      if (repeated === undefined) throw new Broken();
      const times = symbol === 16 ? 3 + bits.take(2) : symbol === 17 ? 3 + bits.take(3) : 11 + bits.take(7);
      for (let i = 0; i < times; i += 1) lengths.push(repeated);
    }
  }
  if (lengths.length !== literals + backs) throw new Broken();
  return [codeOf(lengths.slice(0, literals)), codeOf(lengths.slice(literals))];
}
