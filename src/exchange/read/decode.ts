import { done, type Outcome, refuse } from '../../survey/outcome';

export interface DecodedText {
  /** Lines end with `\n` only; no byte order mark. */
  readonly text: string;
  readonly encoding: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';
  /** True where neither a byte order mark nor the bytes themselves settle the encoding. */
  readonly guessed: boolean;
}

/** Bytes that are looked at to tell UTF-16 without a mark. */
const SAMPLE_BYTES = 4096;
/** More control characters than one in this many is no text; fewer are told where they stand. */
const TEXT_PER_CONTROL = 50;

/**
 * Text of a file: by its byte order mark, else UTF-8, else UTF-16 by the pattern of its zero bytes, else Windows-1252.
 * Refusals: `empty`, `workbook` (a zipped spreadsheet), `not_text` (zero bytes or many control characters).
 */
export function decodeText(bytes: Uint8Array): Outcome<DecodedText> {
  if (bytes.length === 0) return refuse('empty', 'The file is empty.');
  if (bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4) {
    return refuse(
      'workbook',
      'This is a zipped file such as a spreadsheet workbook. Save the sheet as CSV and read that.',
    );
  }
  const settled = encodingOf(bytes);
  // Every byte means something in Windows-1252, so it comes last and is a guess.
  const candidates = settled ? [settled] : FALLBACKS;
  for (const { name, guessed } of candidates) {
    const decoded = tryDecode(bytes, name);
    if (decoded === null) continue;
    if (!looksLikeText(decoded)) break;
    const text = decoded.replace(/\r\n?/g, '\n');
    return text.trim() === '' ? refuse('empty', 'The file is empty.') : done({ text, encoding: name, guessed });
  }
  return refuse('not_text', 'This is not a table: it holds bytes that no text has.');
}

type Encoding = DecodedText['encoding'];

const FALLBACKS: readonly { name: Encoding; guessed: boolean }[] = [
  { name: 'utf-8', guessed: false },
  { name: 'windows-1252', guessed: true },
];

function encodingOf(bytes: Uint8Array): { name: Encoding; guessed: boolean } | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return { name: 'utf-8', guessed: false };
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { name: 'utf-16le', guessed: false };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { name: 'utf-16be', guessed: false };
  // Without a mark: in Latin text every second byte of UTF-16 is zero, and always on the same side.
  const end = Math.min(bytes.length, SAMPLE_BYTES) & ~1;
  let even = 0;
  let odd = 0;
  for (let i = 0; i < end; i += 2) {
    if (bytes[i] === 0) even += 1;
    if (bytes[i + 1] === 0) odd += 1;
  }
  const pairs = end / 2;
  if (odd > pairs * 0.6 && even < pairs * 0.05) return { name: 'utf-16le', guessed: true };
  if (even > pairs * 0.6 && odd < pairs * 0.05) return { name: 'utf-16be', guessed: true };
  return null;
}

function tryDecode(bytes: Uint8Array, encoding: Encoding): string | null {
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

function looksLikeText(text: string): boolean {
  let controls = 0;
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    if (code === 0) return false;
    if (code < 32 && code !== 9 && code !== 10 && code !== 12 && code !== 13) controls += 1;
  }
  return controls * TEXT_PER_CONTROL <= text.length;
}
