/*
 * Names are people's own, and may hold what a format cannot: halves of a pair of UTF-16 units that no encoding of Unicode
 * can write, and control characters that XML 1.0 bars and that end a text early in programs written in C.
 */

/** As on the command line; U+FFFD itself makes some XML readers take the whole file for damaged. */
const REPLACEMENT = '\u00b7';
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
// biome-ignore lint/suspicious/noControlCharactersInRegex: those are what is looked for
const BARRED = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;

/** Text that any format can hold: what cannot be written becomes a dot, so that it is seen that something was there. */
export const writable = (text: string): string =>
  text.replace(LONE_SURROGATE, REPLACEMENT).replace(BARRED, REPLACEMENT);

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
};

/** Text for XML 1.0, in content and in attributes; line breaks and tabs survive in both. */
export const xmlText = (text: string): string =>
  writable(text)
    .replace(/[&<>"']/g, (letter) => ESCAPES[letter] as string)
    .replace(/\r/g, '&#13;');
