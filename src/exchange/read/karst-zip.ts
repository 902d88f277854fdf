import { done, type Outcome, refuse } from '../../survey/outcome';
import { inflate } from './karst-inflate';

/* Zipped files by their directory (APPNOTE 6.3): stored and deflated members, no encryption, no ZIP64. */

/** All members of a zip together may unpack to this. Choice. */
const MOST_BYTES = 256 * 1024 * 1024;
const MOST_MEMBERS = 10_000;

export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5);

/** Members of a zip that are wanted, by name. Refusals: `not_a_zip`, `zip_kind`, `zip_too_large`. */
export function unzip(bytes: Uint8Array, wanted: (name: string) => boolean): Outcome<ReadonlyMap<string, Uint8Array>> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const broken = refuse('not_a_zip', 'This zip is broken off or damaged. Nothing was read from it.');
  let end = bytes.length - 22;
  const first = Math.max(0, end - 65_535);
  while (end >= first && view.getUint32(end, true) !== 0x06054b50) end -= 1;
  if (end < first) return broken;
  const count = view.getUint16(end + 10, true);
  if (count > MOST_MEMBERS)
    return refuse('zip_too_large', `The zip has ${count} files; ${MOST_MEMBERS} are read at most.`);
  const members = new Map<string, Uint8Array>();
  let at = view.getUint32(end + 16, true);
  let total = 0;
  for (let i = 0; i < count; i += 1) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x02014b50) return broken;
    const [flags, method] = [view.getUint16(at + 8, true), view.getUint16(at + 10, true)];
    const [packed, size] = [view.getUint32(at + 20, true), view.getUint32(at + 24, true)];
    const [nameLength, extra, comment] = [28, 30, 32].map((offset) => view.getUint16(at + offset, true)) as [
      number,
      number,
      number,
    ];
    const start = view.getUint32(at + 42, true);
    const name = new TextDecoder(flags & 0x800 ? 'utf-8' : 'windows-1252').decode(
      bytes.subarray(at + 46, at + 46 + nameLength),
    );
    at += 46 + nameLength + extra + comment;
    if (!wanted(name)) continue;
    total += size;
    if (total > MOST_BYTES) return refuse('zip_too_large', `The zip unpacks to more than ${MOST_BYTES / 2 ** 20} MB.`);
    if (flags & 1 || (method !== 0 && method !== 8)) {
      return refuse(
        'zip_kind',
        `“${name.slice(0, 60)}” is encrypted or packed in a way that is not read here. Zip it plainly.`,
      );
    }
    if (start + 30 > bytes.length) return broken;
    const from = start + 30 + view.getUint16(start + 26, true) + view.getUint16(start + 28, true);
    if (from + packed > bytes.length) return broken;
    const raw = bytes.subarray(from, from + packed);
    const content = method === 0 ? raw : inflate(raw, size);
    if (content === null || content.length !== size) return broken;
    members.set(name, content);
  }
  return done(members);
}
