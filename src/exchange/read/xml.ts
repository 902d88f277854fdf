import { DOMParser, type Element, type Node } from '@xmldom/xmldom';
import { done, type Outcome, refuse } from '../../survey/outcome';
import { decodeText } from './decode';

/*
 * XML from people's devices, read on guard: no document type (it may define entities without end), a limit of size and
 * of depth, and nothing but a whole, well-formed document: a file that breaks off is refused, never read as far as it goes.
 */

/** Largest file: some 150 000 track points. A document takes sixty times this in memory. Choice. */
export const MOST_XML_BYTES = 16 * 1024 * 1024;
/** Longest tag; attributes are compared with each other. Choice. */
const LONGEST_TAG = 65_536;
/** Deepest nesting: folders in folders. Choice. */
const DEEPEST = 200;

export interface XmlDocument {
  readonly root: Element;
  /** Prefixes that the file uses without declaring them; they were declared for it. */
  readonly undeclared: readonly string[];
  readonly encoding: string;
  /** True where nothing in the file settles its encoding. */
  readonly encodingGuessed: boolean;
}

/** A refusal with the line of the file, from 1, where it has one. */
export type XmlOutcome = Outcome<XmlDocument> & { readonly row?: number };

/**
 * Reads bytes as an XML document.
 * Refusals: those of `decodeText`, `zipped`, `unknown_encoding`, `too_large`, `doctype`, `too_deep`, `not_xml`.
 */
export function readXml(bytes: Uint8Array): XmlOutcome {
  if (bytes.length > MOST_XML_BYTES) {
    return refuse(
      'too_large',
      `The file has ${Math.round(bytes.length / 2 ** 20)} MB; ${MOST_XML_BYTES / 2 ** 20} MB are read at most. Save the part that is needed as a file of its own.`,
    );
  }
  if (bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4) {
    return refuse('zipped', 'This is a zipped file, as a KMZ is. Unzip it and read the .kml file that is in it.');
  }
  const decoded = decodeXml(bytes);
  if (!decoded.ok) return decoded;
  const { encoding, guessed } = decoded.value;
  const text = decoded.value.text.trimStart();
  const skippedLines = countLines(decoded.value.text.slice(0, decoded.value.text.length - text.length));
  if (!text.startsWith('<')) return refuse('not_xml', 'This is not XML: it does not begin with "<".');

  const scan = scanTags(text);
  if (scan.refusal) return { ...scan.refusal, row: scan.refusal.row + skippedLines };
  const undeclared = [...scan.used].filter((prefix) => !scan.declared.has(prefix)).sort();
  const whole = undeclared.length === 0 ? text : declare(text, scan.rootNameEnd, undeclared);
  return parse(whole, skippedLines, (root) => ({ root, undeclared, encoding, encodingGuessed: guessed }));
}

function parse(text: string, skippedLines: number, found: (root: Element) => XmlDocument): XmlOutcome {
  let trouble: { readonly message: string; readonly row: number } | null = null;
  const keep = (message: string, row: unknown): void => {
    trouble ??= { message, row: (typeof row === 'number' && row > 0 ? row : 1) + skippedLines };
  };
  let root: Element | null = null;
  try {
    const parser = new DOMParser({
      locator: true,
      // Every trouble counts, also those that the parser would get over by dropping something.
      onError: (_level, message, context) => keep(message, context?.locator?.lineNumber),
    });
    root = parser.parseFromString(text, 'application/xml').documentElement;
  } catch (error) {
    const { message, locator } = error as { message?: string; locator?: { lineNumber?: number } };
    keep(message ?? 'it cannot be parsed', locator?.lineNumber);
  }
  if (trouble === null && root !== null) return done(found(root));
  const { message, row } = trouble ?? { message: 'it has no root element', row: 1 };
  return {
    ...refuse('not_xml', `Line ${row}: this is not a whole XML document (${tidyMessage(message)}). Nothing was read.`),
    row,
  };
}

const tidyMessage = (message: string): string => message.replace(/\s+/g, ' ').trim().slice(0, 120);

const countLines = (text: string): number => text.split('\n').length - 1;

/** The encoding that the XML declaration names, where no byte order mark settles it. */
function decodeXml(bytes: Uint8Array): Outcome<{ text: string; encoding: string; guessed: boolean }> {
  const head = String.fromCharCode(...bytes.subarray(0, 200));
  const stated = /^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([\w.:-]+)["']/.exec(head)?.[1]?.toLowerCase();
  if (stated === undefined || /^utf-?(8|16(le|be)?)$/.test(stated)) return decodeText(bytes);
  try {
    const text = new TextDecoder(stated, { fatal: true }).decode(bytes).replace(/\r\n?/g, '\n');
    return done({ text, encoding: stated, guessed: false });
  } catch {
    return refuse('unknown_encoding', `The file says that its encoding is ${stated}, and cannot be read as such.`);
  }
}

interface Scan {
  readonly refusal: ({ readonly ok: false; readonly code: string; readonly sentence: string } & { row: number }) | null;
  readonly used: ReadonlySet<string>;
  readonly declared: ReadonlySet<string>;
  /** Where the name of the root element ends in the text. */
  readonly rootNameEnd: number;
}

/** One walk over the tags, so that what is dangerous is refused before the parser sees it. */
function scanTags(text: string): Scan {
  const used = new Set<string>();
  const declared = new Set<string>(['xml', 'xmlns']);
  let rootNameEnd = -1;
  let depth = 0;
  let refusal: Scan['refusal'] = null;
  let at = text.indexOf('<');
  while (at >= 0) {
    let end: number;
    if (text.startsWith('<!--', at)) end = text.indexOf('-->', at + 4) + 3;
    else if (text.startsWith('<![CDATA[', at)) end = text.indexOf(']]>', at + 9) + 3;
    else if (text.startsWith('<?', at)) end = text.indexOf('?>', at + 2) + 2;
    else if (text.startsWith('<!', at)) {
      const row = countLines(text.slice(0, at)) + 1;
      refusal = {
        ...refuse(
          'doctype',
          `Line ${row}: the file has a document type (<!DOCTYPE), which is refused since it may stand for other content. Remove it.`,
        ),
        row,
      };
      break;
    } else {
      end = tagEnd(text, at);
      const tag = text.slice(at, end);
      if (tag.startsWith('</')) depth -= 1;
      else {
        prefixesOf(tag, used, declared);
        if (rootNameEnd < 0) rootNameEnd = at + (/^<[^\s/>]*/.exec(tag)?.[0].length ?? 1);
        if (!tag.endsWith('/>')) depth += 1;
      }
    }
    if (end <= at || depth > DEEPEST) {
      const row = countLines(text.slice(0, at)) + 1;
      const broken = refuse(
        'not_xml',
        `Line ${row}: this is not a whole XML document (what begins here is never closed). Nothing was read.`,
      );
      const tooDeep = refuse('too_deep', `Line ${row}: elements are nested more than ${DEEPEST} deep.`);
      refusal = { ...(end <= at ? broken : tooDeep), row };
      break;
    }
    at = text.indexOf('<', end);
  }
  return { refusal, used, declared, rootNameEnd };
}

/** Behind the `>` that ends a tag, not one between quotation marks; 0 when it is never ended, or not within reason. */
function tagEnd(text: string, at: number): number {
  let quote = '';
  const last = Math.min(text.length, at + 1 + LONGEST_TAG);
  for (let i = at + 1; i < last; i += 1) {
    const letter = text[i] as string;
    if (quote !== '') {
      if (letter === quote) quote = '';
    } else if (letter === '"' || letter === "'") quote = letter;
    else if (letter === '>') return i + 1;
    else if (letter === '<') return 0;
  }
  return 0;
}

function prefixesOf(tag: string, used: Set<string>, declared: Set<string>): void {
  const own = /^<([^\s:/>]+):/.exec(tag)?.[1];
  if (own !== undefined) used.add(own);
  if (!tag.includes(':')) return;
  const bare = tag.replace(/"[^"]*"|'[^']*'/g, '""');
  for (const [, prefix = '', name = ''] of bare.matchAll(/\s([^\s:="'/>]+):([^\s:="'/>]+)\s*=/g)) {
    if (prefix === 'xmlns') declared.add(name);
    else used.add(prefix);
  }
}

function declare(text: string, rootNameEnd: number, prefixes: readonly string[]): string {
  const declarations = prefixes.map((prefix) => ` xmlns:${prefix}="urn:undeclared:${prefix}"`).join('');
  return text.slice(0, rootNameEnd) + declarations + text.slice(rootNameEnd);
}

/** Child elements, whatever their prefix. */
export function elementsOf(parent: Element): Element[] {
  const found: Element[] = [];
  for (let node: Node | null = parent.firstChild; node !== null; node = node.nextSibling) {
    if (node.nodeType === 1) found.push(node as Element);
  }
  return found;
}

/** Local name of an element, without its prefix. */
export const nameOf = (element: Element): string => element.localName ?? element.nodeName;

/** First child of a local name; null without one. */
export function childOf(parent: Element, name: string): Element | null {
  return elementsOf(parent).find((element) => nameOf(element) === name) ?? null;
}

/** Text of an element, or of its first child of a name: spaces and line breaks made single; null when blank. */
export function textOf(parent: Element | null, name?: string): string | null {
  const element = parent !== null && name !== undefined ? childOf(parent, name) : parent;
  const text = element?.textContent?.replace(/\s+/g, ' ').trim() ?? '';
  return text === '' ? null : text;
}

/** Line of the file on which an element begins, from 1. */
export const rowOf = (element: Element): number => element.lineNumber ?? 1;

/** Every element below another that passes, in the order of the file. */
export function descendantsOf(parent: Element, name: string): Element[] {
  return elementsOf(parent).flatMap((element) => [
    ...(nameOf(element) === name ? [element] : []),
    ...descendantsOf(element, name),
  ]);
}
