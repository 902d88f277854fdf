/** Names shorter than this stand in many words and numbers by chance: they are changed behind "line" only. Choice. */
const LONG_ENOUGH = 5;

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
const oneOf = (names: Iterable<string>): string =>
  `(?:${[...names]
    .sort((p, q) => q.length - p.length)
    .map(escaped)
    .join('|')})(?![\\p{L}\\p{N}])`;

/**
 * Calls lines by their new names in sentences that call them by the old ones: "line A", "lines A, B and C", and anywhere
 * where the old name is long. All at once, so that no new name is taken for an old one.
 */
export function renamer(renamed: ReadonlyMap<string, string>, all: Iterable<string>): (text: string) => string {
  if (renamed.size === 0) return (text) => text;
  const now = (name: string): string => renamed.get(name) ?? name;
  const any = oneOf(all);
  const list = `(?<=\\blines )${any}(?:(?:, | and )${any})*`;
  const one = `(?<=\\b[Ll]ine )${any}`;
  const long = [...renamed.keys()].filter((name) => name.length >= LONG_ENOUGH);
  const anywhere = long.length > 0 ? `|(?<![\\p{L}\\p{N}])${oneOf(long)}` : '';
  const found = new RegExp(`${list}|${one}${anywhere}`, 'gu');
  const each = new RegExp(`(?<=^|, | and )${any}`, 'gu');
  return (text) => text.replace(found, (piece) => (renamed.has(piece) ? now(piece) : piece.replace(each, now)));
}
