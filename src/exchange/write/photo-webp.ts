import { done, type Outcome } from '../../survey/outcome';
import { BROKEN, joined, lettersAt, orientationIn, type StrippedPhoto, viewOf } from './photo-parts';

/** What a WebP is drawn from (RFC 9649, section 2.7). */
const NEEDED = new Set(['VP8 ', 'VP8L', 'VP8X', 'ALPH', 'ANIM', 'ANMF']);
const IN_FRAME = new Set(['VP8 ', 'VP8L', 'ALPH']);
/** Of a VP8X chunk: has a colour profile, Exif, XMP. */
const SAID_TO_HAVE = 0x20 | 0x08 | 0x04;
const FRAME_HEAD = 16;
/** Lengths that are always the same. */
const FIXED: Readonly<Record<string, number>> = { VP8X: 10, ANIM: 6 };

interface Chunk {
  readonly name: string;
  readonly data: Uint8Array;
}

/** Null where it breaks off. Chunks are padded to even lengths. */
function chunksIn(bytes: Uint8Array): readonly Chunk[] | null {
  const view = viewOf(bytes);
  const chunks: Chunk[] = [];
  for (let at = 0; at < bytes.length; ) {
    if (at + 8 > bytes.length) return null;
    const length = view.getUint32(at + 4, true);
    if (at + 8 + length > bytes.length) return null;
    chunks.push({ name: lettersAt(bytes, at, 4), data: bytes.subarray(at + 8, at + 8 + length) });
    at += 8 + length + (length % 2);
  }
  return chunks;
}

function written({ name, data }: Chunk): Uint8Array {
  const bytes = new Uint8Array(8 + data.length + (data.length % 2));
  for (let i = 0; i < 4; i += 1) bytes[i] = name.charCodeAt(i);
  viewOf(bytes).setUint32(4, data.length, true);
  bytes.set(data, 8);
  return bytes;
}

export function strippedWebp(bytes: Uint8Array): Outcome<StrippedPhoto> {
  if (bytes.length < 12) return BROKEN;
  const size = viewOf(bytes).getUint32(4, true);
  const chunks = size + 8 > bytes.length ? null : chunksIn(bytes.subarray(12, size + 8));
  if (!chunks?.some(({ name }) => ['VP8 ', 'VP8L', 'ANMF'].includes(name))) return BROKEN;
  const left = new Set<string>(size + 8 + (size % 2) < bytes.length ? ['behind the end'] : []);
  let orientation = 1;
  const kept: Chunk[] = [];
  for (const chunk of chunks) {
    if (chunk.name === 'EXIF') {
      const hasHead = lettersAt(chunk.data, 0, 6) === 'Exif\0\0';
      orientation = orientationIn(chunk.data.subarray(hasHead ? 6 : 0));
    }
    if (!NEEDED.has(chunk.name)) {
      left.add(chunk.name.trim());
      continue;
    }
    if ((FIXED[chunk.name] ?? chunk.data.length) !== chunk.data.length) return BROKEN;
    const part = chunk.name === 'ANMF' ? strippedFrame(chunk, left) : chunk.name === 'VP8X' ? plain(chunk) : chunk;
    if (part === null) return BROKEN;
    kept.push(part);
  }
  const picture = written({ name: 'RIFF', data: joined([NAME, ...kept.map(written)]) });
  return done({ bytes: picture, mediaType: 'image/webp', orientation, left: [...left] });
}

const NAME = Uint8Array.from('WEBP', (letter) => letter.charCodeAt(0));

function plain({ name, data }: Chunk): Chunk {
  const flags = Uint8Array.from(data);
  flags[0] = (flags[0] ?? 0) & ~SAID_TO_HAVE;
  return { name, data: flags };
}

/** A frame may hold chunks of its own. */
function strippedFrame({ name, data }: Chunk, left: Set<string>): Chunk | null {
  const inner = data.length < FRAME_HEAD ? null : chunksIn(data.subarray(FRAME_HEAD));
  if (!inner) return null;
  for (const chunk of inner) if (!IN_FRAME.has(chunk.name)) left.add(chunk.name.trim());
  const kept = inner.filter((chunk) => IN_FRAME.has(chunk.name)).map(written);
  return { name, data: joined([data.subarray(0, FRAME_HEAD), ...kept]) };
}
