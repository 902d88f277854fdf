/** An attribute's value; null leaves the attribute out. Numbers are lengths in px of the figure, to its hundredth. */
export type AttributeValue = string | number | null;

export interface SvgElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, AttributeValue>>;
  readonly children: readonly SvgNode[];
}

/** An element, or text that is escaped when it is written. */
export type SvgNode = SvgElement | string;

/** An element, not yet text: what is put into it is escaped once, when the figure is written. */
export function element(
  name: string,
  attributes: Readonly<Record<string, AttributeValue>>,
  children: readonly SvgNode[] = [],
): SvgElement {
  return { name, attributes, children };
}

const ESCAPED: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
};

/** What no XML 1.0 document may hold, not even escaped (production [2] `Char` of the W3C recommendation). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very ones that are to be found
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu;

/** Text as it may stand between tags or in a double-quoted attribute of XML. */
export function escaped(text: string): string {
  return text.replace(FORBIDDEN, '\ufffd').replace(/[&<>"']/g, (character) => ESCAPED[character] ?? character);
}

/** A number as an attribute, without an exponent and without a negative zero. */
const numberText = (value: number): string => String(Math.round(value * 100) / 100 || 0);

function written(node: SvgNode): string {
  if (typeof node === 'string') return escaped(node);
  const { name, attributes, children } = node;
  const pairs = Object.entries(attributes).flatMap(([key, value]) =>
    value === null ? [] : [` ${key}="${typeof value === 'number' ? numberText(value) : escaped(value)}"`],
  );
  const inside = children.map(written).join('');
  return inside === '' ? `<${name}${pairs.join('')}/>` : `<${name}${pairs.join('')}>${inside}</${name}>`;
}

export interface Figure {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Its name, one line. */
  readonly title: string;
  /** All that it shows, in sentences, for whoever cannot see it. */
  readonly summary: string;
  readonly children: readonly SvgNode[];
}

/**
 * A whole figure as the text of an SVG document: stands alone in a file, and can be parsed into a page.
 * It holds no style sheet, script, address or id, so that several fit into one page under any policy.
 */
export function figureText({ widthPx, heightPx, title, summary, children }: Figure): string {
  return written(
    element(
      'svg',
      {
        xmlns: 'http://www.w3.org/2000/svg',
        viewBox: `0 0 ${numberText(widthPx)} ${numberText(heightPx)}`,
        width: widthPx,
        height: heightPx,
        role: 'img',
      },
      [element('title', {}, [title]), element('desc', {}, [summary]), ...children],
    ),
  );
}
