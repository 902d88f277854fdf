import { inflateSync } from 'fflate';

/**
 * Unpacks deflated data (RFC 1951) that is said to have so many bytes; null when it is broken or has another size. A small
 * file cannot unpack to more than it says.
 */
export function inflate(packed: Uint8Array, size: number): Uint8Array | null {
  try {
    // One byte of room more shows data that would go on.
    const out = inflateSync(packed, { out: new Uint8Array(size + 1) });
    return out.length === size ? out : null;
  } catch {
    return null;
  }
}
