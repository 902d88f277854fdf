/** Characters that are made bytes at once: a long text and its bytes need not stand beside each other. */
export const ENCODED_AT_ONCE = 1 << 18;

/** Texts as UTF-8, piece by piece. */
export function* encoded(pieces: Iterable<string>): Generator<Uint8Array<ArrayBuffer>> {
  const encoder = new TextEncoder();
  for (const piece of pieces) {
    let from = 0;
    while (from < piece.length) {
      // A pair of surrogates is one character and stays together.
      const isPairCut = isHighSurrogate(piece.charCodeAt(from + ENCODED_AT_ONCE - 1));
      const to = from + ENCODED_AT_ONCE + (isPairCut ? 1 : 0);
      yield encoder.encode(piece.slice(from, to));
      from = to;
    }
  }
}

const isHighSurrogate = (code: number): boolean => code >= 0xd800 && code <= 0xdbff;
