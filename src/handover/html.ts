/** Text that is HTML already: made by `html` alone, so that nothing gets into a page unescaped. */
export interface Markup {
  readonly markup: string;
}

export type HtmlValue = Markup | string | number | null | readonly (Markup | string | number | null)[];

const ESCAPED: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** What no HTML document may hold, not even as a reference: controls and lone surrogates (HTML standard, 13.2.5). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very ones that are to be found
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]|\p{Surrogate}/gu;

/** Marks that turn the direction of all that follows them (Unicode Standard Annex 9): names that hold them would turn ours. */
const TURNING = /[\u202a-\u202e\u2066-\u2069]/g;

/** Text of users as it may be shown: without what turns the direction of the text around it, and without forbidden characters. */
export const shownText = (text: string): string => text.replace(TURNING, '').replace(FORBIDDEN, '\ufffd');

/** A name short enough to stand in a list or on a map. */
export function shortText(text: string, most = 60): string {
  const characters = [...shownText(text).trim()];
  return characters.length > most ? `${characters.slice(0, most - 1).join('')}…` : characters.join('');
}

/** Text as it may stand between tags or in a double-quoted attribute. */
export const escapedHtml = (text: string): string =>
  shownText(text).replace(/[&<>"']/g, (character) => ESCAPED[character] ?? character);

/** A template whose values are escaped, unless they are markup; lists are joined, null is nothing. */
export function html(strings: TemplateStringsArray, ...values: readonly HtmlValue[]): Markup {
  return { markup: strings.reduce((text, part, i) => text + written(values[i - 1] ?? null) + part) };
}

function written(value: HtmlValue): string {
  if (value === null) return '';
  if (typeof value === 'string') return escapedHtml(value);
  if (typeof value === 'number') return String(value);
  return 'markup' in value ? value.markup : value.map(written).join('');
}

/** Text of our own that is markup: a figure, a style sheet, a script. Never a user's text. */
export const ownMarkup = (text: string): Markup => ({ markup: text });
