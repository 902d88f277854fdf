import type { Chance } from './chance';

/** Bytes and texts that have broken readers before, in any format. */
const NASTY = [
  '',
  '\u0000',
  '\ufeff',
  '\u202e',
  '\ud800',
  '"',
  "'",
  '""""',
  ',;\t',
  '\r',
  '\n\n\n',
  '-',
  '--1',
  '1e999',
  '-1e999',
  'NaN',
  'Infinity',
  '0x10',
  '1,5',
  '1.5.5',
  '99999999999999999999',
  '5e-324',
  '9007199254740993',
  '__proto__',
  'constructor',
  '<img src=x onerror=alert(1)>',
  '=1+1',
  '@SUM(A1)',
  '<!DOCTYPE a [<!ENTITY b "c">]>&b;',
  'javascript:alert(1)',
  '../../../../etc/passwd',
  '🕳️',
  'نص',
  '91°60\'61"W',
  '9'.repeat(400),
  '['.repeat(3000),
  '{"a":'.repeat(3000),
  'null',
  'true',
  '[]',
  '{}',
];

/** A file made a little wrong: bytes turned, cut, doubled or moved, numbers and texts swapped for nasty ones. */
export function mutated(bytes: Uint8Array, chance: Chance): Uint8Array {
  let out = bytes;
  for (let k = 1 + chance.below(3); k > 0; k -= 1) out = once(out, chance);
  return out.length > 4 * bytes.length + 100_000 ? out.slice(0, 4 * bytes.length + 100_000) : out;
}

function once(bytes: Uint8Array, chance: Chance): Uint8Array {
  switch (chance.below(8)) {
    case 0: {
      const copy = bytes.slice();
      for (let k = 1 + chance.below(8); k > 0; k -= 1) copy[chance.below(copy.length)] = chance.below(256);
      return copy;
    }
    case 1:
      return bytes.slice(0, chance.below(bytes.length + 1));
    case 2: {
      const [from, to] = span(bytes, chance);
      return joined(bytes.subarray(0, from), bytes.subarray(to));
    }
    case 3: {
      const [from, to] = span(bytes, chance);
      return joined(bytes.subarray(0, to), bytes.subarray(from));
    }
    case 4: {
      const at = chance.below(bytes.length + 1);
      return joined(bytes.subarray(0, at), encode(chance.of(NASTY)), bytes.subarray(at));
    }
    case 5:
      return replacedOne(bytes, /-?\d+(?:\.\d+)?/g, chance);
    case 6:
      return replacedOne(bytes, /"[^"\n]{0,60}"|[A-Za-z_]{3,20}/g, chance);
    default: {
      const lines = decode(bytes).split('\n');
      const [i, k] = [chance.below(lines.length), chance.below(lines.length)];
      [lines[i], lines[k]] = [lines[k] ?? '', lines[i] ?? ''];
      return encode(lines.join('\n'));
    }
  }
}

/** One match of a pattern swapped for something nasty. Bytes that are no UTF-8 are turned as bytes instead. */
function replacedOne(bytes: Uint8Array, pattern: RegExp, chance: Chance): Uint8Array {
  if (bytes.length > 200_000) return bytes.slice(0, chance.below(bytes.length));
  const text = decode(bytes);
  const matches = [...text.matchAll(pattern)];
  const match = matches[chance.below(Math.max(1, matches.length))];
  if (!match) return bytes;
  return encode(text.slice(0, match.index) + chance.of(NASTY) + text.slice(match.index + match[0].length));
}

function span(bytes: Uint8Array, chance: Chance): readonly [number, number] {
  const from = chance.below(bytes.length + 1);
  return [from, Math.min(bytes.length, from + chance.below(200))];
}

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
const decode = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

function joined(...parts: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}
