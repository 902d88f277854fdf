export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (XmlElement | string)[];
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function unescaped(text: string): string {
  if (/[<>]/.test(text)) throw new Error(`a bare bracket in "${text}"`);
  return text.replace(/&(\w*);?/g, (whole, name: string) => {
    const character = ENTITIES[name];
    if (character === undefined || !whole.endsWith(';')) throw new Error(`"${whole}" is no entity`);
    return character;
  });
}

/**
 * A reader of the little XML that figures are written in, stricter than the standard: every tag closed in order, every
 * attribute once and in double quotes, nothing but the five entities, no declarations, comments or CDATA.
 */
export function readXml(text: string): XmlElement {
  let at = 0;
  const wanted = (pattern: RegExp, what: string): RegExpExecArray => {
    const sticky = new RegExp(pattern.source, 'uy');
    sticky.lastIndex = at;
    const match = sticky.exec(text);
    if (!match) throw new Error(`expected ${what} at ${at}: "${text.slice(at, at + 40)}"`);
    at = sticky.lastIndex;
    return match;
  };
  const elementHere = (): XmlElement => {
    const [, name = ''] = wanted(/<([a-z]+)/, 'a tag');
    const attributes: Record<string, string> = {};
    while (text[at] === ' ') {
      const [, key = '', value = ''] = wanted(/ ([a-zA-Z][a-zA-Z0-9-]*)="([^"]*)"/, 'an attribute');
      if (key in attributes) throw new Error(`${key} twice`);
      attributes[key] = unescaped(value);
    }
    const children: (XmlElement | string)[] = [];
    if (wanted(/\/?>/, 'the end of a tag')[0] === '/>') return { name, attributes, children };
    while (!text.startsWith('</', at)) {
      if (text[at] === '<') children.push(elementHere());
      else children.push(unescaped(wanted(/[^<]+/, 'text')[0]));
    }
    wanted(new RegExp(`</${name}>`), `the end of ${name}`);
    return { name, attributes, children };
  };
  const root = elementHere();
  if (at !== text.length) throw new Error(`more after the end: "${text.slice(at)}"`);
  return root;
}

/** All elements within one, in the order of the document, itself included. */
export function allIn(root: XmlElement): XmlElement[] {
  return [root, ...root.children.flatMap((child) => (typeof child === 'string' ? [] : allIn(child)))];
}

/** The text directly within an element. */
export const textOf = ({ children }: XmlElement): string =>
  children.filter((child) => typeof child === 'string').join('');

/** The group of a mark; fails where there is none. */
export function markOf(root: XmlElement, sid: string): XmlElement {
  const found = allIn(root).find(({ attributes }) => attributes['data-sid'] === sid);
  if (!found) throw new Error(`no mark of ${sid}`);
  return found;
}

/** The texts that can be read in a figure, without its names and descriptions. */
export const shownTexts = (root: XmlElement): string[] =>
  allIn(root)
    .filter(({ name }) => name === 'text')
    .map(textOf);
