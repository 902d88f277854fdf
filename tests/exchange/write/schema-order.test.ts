import { DOMParser, type Element } from '@xmldom/xmldom';
import type { Geometry } from 'geojson';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../../src/appraise';
import { AUDIENCES, isOutside } from '../../../src/discretion/audience';
import { type Disclosed, disclose } from '../../../src/discretion/disclose';
import { gpxPieces } from '../../../src/exchange/write/gpx';
import { kmlPieces } from '../../../src/exchange/write/kml';
import type { LayerFeature } from '../../../src/exchange/write/layer-collection';
import { segmentsSld, zonesSld } from '../../../src/exchange/write/sld';
import { packFiles } from '../../../src/handover/pack';
import type { Survey } from '../../../src/survey/survey';
import { feature } from '../../discretion/made-share';
import { madeShare, madeSite, TERMS } from '../../handover/made-site';
import { sql } from '../../handover/sql';
import { emptySurvey, madeLine, madeReading, madeReference } from '../../helpers/made-survey';
import { FORMS, type Form, GPX, KML, KML_TUPLES, SLD, type XmlSchema } from '../../reference/xml-schema-order';

const SCHEMAS = { kml: KML, gpx: GPX, sld: SLD } as const;
type Format = keyof typeof SCHEMAS;

/** XML 1.0 (fifth edition), 2.4: what stands for itself only when it is escaped. The parser lets both pass. */
const UNESCAPED = /&(?!(?:amp|lt|gt|quot|apos|#\d+|#x[\da-f]+);)|\]\]>/i;
/** XML 1.0, 2.2: characters that no document holds, not even by their number. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: those are what is looked for
const NO_CHARACTER = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ud800-\udfff\ufffe\uffff]/u;
const NOT_OF_THE_SCHEMA = ['http://www.w3.org/2000/xmlns/', 'http://www.w3.org/2001/XMLSchema-instance'];

interface Particle {
  readonly names: readonly string[];
  readonly least: number;
  readonly most: number;
}

const OCCURS: Readonly<Record<string, readonly [number, number]>> = {
  '': [1, 1],
  '?': [0, 1],
  '*': [0, Infinity],
  '+': [1, Infinity],
  '{2}': [2, 2],
  '{2,}': [2, Infinity],
};

/** What a line of the table says of the children, one after the other. */
function particlesOf(children: string): readonly Particle[] {
  return children
    .split(' ')
    .filter((each) => each !== '')
    .map((each) => {
      const [, names = '', occurs = ''] = /^\(?([\w:|]+)\)?(\W?|\{2,?\})$/.exec(each) ?? [];
      const bounds = OCCURS[occurs];
      if (!names || !bounds) throw new Error(`the table says ${each}`);
      return { names: names.split('|'), least: bounds[0], most: bounds[1] };
    });
}

const childrenOf = (parent: Element): Element[] =>
  [...parent.childNodes].filter((node) => node.nodeType === 1) as Element[];
const ownText = (element: Element): string =>
  [...element.childNodes]
    .filter((node) => node.nodeType === 3 || node.nodeType === 4)
    .map(({ nodeValue }) => nodeValue)
    .join('');
const allOf = (root: Element, name: string): Element[] =>
  [...root.getElementsByTagName('*')].filter(({ localName }) => localName === name) as Element[];

/** Everything in which a document differs from what its schema allows, each kind of fault once. */
function breaches(format: Format, text: string): readonly string[] {
  const numbers = text.replace(/&#(?:x([\da-f]+)|(\d+));/gi, (_all, hex, decimal) =>
    String.fromCodePoint(hex ? Number.parseInt(hex, 16) : Number(decimal)),
  );
  if (NO_CHARACTER.test(numbers)) return ['a character that XML bars'];
  if (UNESCAPED.test(text)) return ['not well-formed: & or ]]> as it is'];
  const faults: string[] = [];
  const onError = (_level: string, message: string): void => void faults.push(`not well-formed: ${message}`);
  let root: Element | null = null;
  try {
    root = new DOMParser({ onError }).parseFromString(text, 'application/xml').documentElement;
  } catch {
    // The parser has told of it.
  }
  if (!root || faults.length > 0) return faults;
  const own = format === 'kml' ? kmlBreaches(root) : [];
  return [...new Set([...walk(root, SCHEMAS[format]), ...own])];
}

function walk(root: Element, schema: XmlSchema): readonly string[] {
  const found: string[] = [];
  const ids = new Set<string>();
  const particles = new Map(
    Object.entries(schema.elements).map(([name, { children = '' }]) => [name, particlesOf(children)] as const),
  );
  const nameOf = ({ namespaceURI, localName }: Element): string =>
    `${schema.prefixes[namespaceURI ?? ''] ?? `{${namespaceURI}}`}${localName}`;
  const checkForm = (form: Form, value: string, where: string): void => {
    if (!FORMS[form](value)) found.push(`${where} is no ${form}`);
    if (form !== 'ID') return;
    if (ids.has(value)) found.push(`${where} stands twice`);
    ids.add(value);
  };

  const visit = (element: Element): void => {
    const name = nameOf(element);
    const facts = schema.elements[name];
    if (!facts) return void found.push(`${name} is not in the table`);
    const say = (what: string): void => void found.push(`${name}: ${what} (${facts.from})`);

    if (facts.text) checkForm(facts.text, ownText(element), `text of ${name}`);
    else if (ownText(element).trim() !== '') say('text between elements');

    const allowed = facts.attributes ?? {};
    for (const { name: key, namespaceURI, value } of element.attributes) {
      if (NOT_OF_THE_SCHEMA.includes(namespaceURI ?? '')) continue;
      const form = allowed[key] ?? allowed[`${key}!`];
      if (form) checkForm(form, value, `${name} ${key}`);
      else say(`unknown attribute ${key}`);
    }
    for (const key of Object.keys(allowed))
      if (key.endsWith('!') && !element.hasAttribute(key.slice(0, -1))) say(`no attribute ${key.slice(0, -1)}`);

    const model = particles.get(name) ?? [];
    const children = childrenOf(element).map(nameOf);
    const places = children.map((child) => model.findIndex(({ names }) => names.includes(child)));
    for (const [i, child] of children.entries()) {
      const place = places[i] as number;
      if (place < 0) say(`unknown element ${child}`);
      else if (place < (places[i - 1] ?? 0)) say(`${child} out of order`);
    }
    for (const [place, { names, least, most }] of model.entries()) {
      const count = places.filter((each) => each === place).length;
      if (count < least) say(`${count} of ${names.join('|')}, not ${least} or more`);
      if (count > most) say(`${count} of ${names.join('|')}, not ${most} at most`);
    }
    for (const child of childrenOf(element)) visit(child);
  };

  if (nameOf(root) !== schema.root) found.push(`the root is ${nameOf(root)}`);
  else visit(root);
  return found;
}

/** What the abstract test suite of KML asks beyond the schema: ATC 14 to 16 of coordinates, ATC 27 of data. */
function kmlBreaches(root: Element): readonly string[] {
  const found: string[] = [];
  for (const { parentNode, textContent } of allOf(root, 'coordinates')) {
    const name = (parentNode as Element).localName ?? '';
    const tuples = (textContent ?? '').split(/\s+/);
    const [least, most] = KML_TUPLES[name] ?? [0, 0];
    if (tuples.length < least || tuples.length > most) found.push(`${name} of ${tuples.length} tuples`);
    if (name === 'LinearRing' && tuples[0] !== tuples[tuples.length - 1]) found.push('LinearRing is open');
  }
  const types = new Map(
    allOf(root, 'Schema').map((schema) => [
      `#${schema.getAttribute('id')}`,
      new Map(
        childrenOf(schema).map((field) => [field.getAttribute('name'), field.getAttribute('type') as Form] as const),
      ),
    ]),
  );
  for (const data of allOf(root, 'SchemaData')) {
    const fields = types.get(data.getAttribute('schemaUrl') ?? '');
    if (!fields) found.push('SchemaData of no Schema');
    for (const simple of fields ? childrenOf(data) : []) {
      const name = simple.getAttribute('name');
      const type = fields?.get(name);
      if (!type) found.push(`SimpleData ${name} without a field`);
      else if (!FORMS[type]?.(simple.textContent ?? '')) found.push(`SimpleData ${name} is no ${type}`);
    }
  }
  return found;
}

async function written(disclosed: Disclosed, terms: Parameters<typeof packFiles>[1] = TERMS) {
  const files = await packFiles(disclosed, terms, { sql });
  if (!files.ok) throw new Error(files.sentence);
  return files.value.flatMap(({ name, bytes }) => {
    const format = /\.(kml|gpx|sld)$/.exec(name)?.[1] as Format | undefined;
    return format ? [{ name, format, text: new TextDecoder('utf-8', { fatal: true }).decode(bytes) }] : [];
  });
}

const FILES = ['layers.kml', 'stakes.gpx', 'styles/segments.sld', 'styles/zones.sld'];

async function expectValid(disclosed: Disclosed, terms?: Parameters<typeof packFiles>[1]): Promise<void> {
  const files = await written(disclosed, terms);
  expect(files.map(({ name }) => name).sort()).toEqual(FILES);
  for (const { name, format, text } of files) expect([name, ...breaches(format, text)]).toEqual([name]);
}

const HOSTILE: Readonly<Record<string, string>> = {
  markup: '<img src=x onerror=alert(1)>"&\'</script><!--',
  'right to left': '\u202egnp.exe\u2066\u200f',
  NUL: 'a\u0000b\u0001\u001b[31m\ufffe',
  'half a surrogate pair': 'x\ud800y\udc00',
  'ten thousand characters': 'long'.repeat(2500),
  emoji: '🕳️👩‍🔬',
  'a closing of CDATA': ']]>]]&gt;&#0;',
  'line breaks': 'a\r\nb\rc\td ',
  nothing: '',
};

/** One line and feature for each name; the site and the reference with all of them. */
function hostileSurvey(): Survey {
  const base = emptySurvey('hostile');
  const all = Object.values(HOSTILE).join(' ');
  const stations = [4, 8, 16, 20, 24];
  const lines = Object.values(HOSTILE).map((name, i) =>
    madeLine(name, [
      { chainageM: 0, lon: 10, lat: 47 + i / 1000, elevationM: 400 },
      { chainageM: 40, lon: 10.0005, lat: 47 + i / 1000, elevationM: 401 },
    ]),
  );
  return {
    ...base,
    site: {
      ...base.site,
      name: all,
      setback_rules: [{ type: 'any', distance_m: 5, from: 'point', with_uncertainty: false, cites: all }],
    },
    lines,
    readings: lines.flatMap((line) =>
      [...stations, 12].map((midpoint_m) =>
        madeReading(line, {
          midpoint_m,
          spacing_m: 2,
          value: midpoint_m === 12 ? 900 : 300,
          hookup: 'wenner_alpha',
          note: line.name,
        }),
      ),
    ),
    references: [
      madeReference(
        lines.flatMap((line) => stations.map((chainageM) => ({ line, chainageM }))),
        { name: all, serves: lines.map(({ id }) => id) },
      ),
    ],
    features: Object.values(HOSTILE).map((name, i) =>
      feature(`f${i}`, 10.0002, 47.0001 + i / 1000, { name, note: name, source: name, type: name || 'shaft' }),
    ),
  };
}

describe('KML, GPX and SLD files keep their schemas', () => {
  it.each(AUDIENCES.filter((audience) => !isOutside(audience)))('of the demo, for the %s', async (audience) => {
    await expectValid(madeShare(audience));
  });

  it('of the demo with features of every shape', async () => {
    const { survey, findings } = madeSite();
    const at = (lon: number, lat: number) => ({ x: -91.9138 + lon, y: 37.4085 + lat, crs: 'EPSG:4326' });
    const ring = [at(0, 0), at(2e-4, 0), at(2e-4, 2e-4), at(0, 2e-4), at(0, 0)];
    const features = [
      ...survey.features,
      feature('line', 0, 0, { type: 'dry_valley', shape: 'line', positions: [at(0, 5e-4), at(6e-4, 7e-4)] }),
      feature('area', 0, 0, { shape: 'area', positions: ring, length_m: 20, width_m: 20, long_axis_deg: 90 }),
    ];
    await expectValid(disclose({ ...survey, features }, findings, 'surveyor'));
  });

  it('of a survey with hostile names, under a hostile title', async () => {
    const survey = hostileSurvey();
    const title = survey.site.name;
    await expectValid(disclose(survey, appraise(survey), 'surveyor'), { ...TERMS, title });
  });

  it('of a line that crosses 180°, with an electrode just there', async () => {
    const line = madeLine('date line', [
      { chainageM: 0, lon: 179.9995, lat: -16.5 },
      { chainageM: 50, lon: 179.99999999, lat: -16.5 },
      { chainageM: 100, lon: -179.9995, lat: -16.5 },
    ]);
    const readings = [48, 50, 52].map((midpoint_m) =>
      madeReading(line, { midpoint_m, spacing_m: 4, value: 300, hookup: 'pole_pole' }),
    );
    const survey = { ...emptySurvey('date line'), lines: [line], readings };
    await expectValid(disclose(survey, appraise(survey), 'surveyor'));
  });
});

const RING = [
  [10, 47],
  [10.1, 47],
  [10.1, 47.1],
  [10, 47],
];
const GEOMETRIES: readonly Geometry[] = [
  { type: 'Point', coordinates: [10, 47] },
  { type: 'LineString', coordinates: RING },
  { type: 'MultiLineString', coordinates: [RING] },
  { type: 'MultiLineString', coordinates: [RING, RING] },
  { type: 'MultiPolygon', coordinates: [[RING]] },
  { type: 'MultiPolygon', coordinates: [[RING, RING], [RING]] },
];
const things = GEOMETRIES.map(
  (geometry, i): LayerFeature => ({
    type: 'Feature',
    id: `t${i}`,
    geometry,
    properties: { sid: `t${i}`, line: 'L', reading_count: 3, elevation_m: 4e-7, role: 'near', meaning: 'made' },
  }),
);
const layer = (name: 'electrodes' | 'segments') => ({ name, features: things });
const SMALL: Readonly<Record<Format, string>> = {
  kml: [...kmlPieces('small', [layer('electrodes'), layer('segments')], () => 4e-7)].join(''),
  gpx: [...gpxPieces('small', things, '2026-11-25T12:00:00+01:00')].join(''),
  sld: segmentsSld(),
};
const FORMATS = ['kml', 'gpx', 'sld'] as const;

it.each(FORMATS)('the table of %s has a row for every element that is written, and for no other', (format) => {
  const texts = format === 'sld' ? [segmentsSld(), zonesSld()] : [SMALL[format]];
  expect(texts.flatMap((text) => breaches(format, text))).toEqual([]);
  const seen = texts.flatMap((text) => [...text.matchAll(/<([\w:]+)/g)].map(([, name]) => name));
  expect([...new Set(seen)].sort()).toEqual(Object.keys(SCHEMAS[format].elements).sort());
});

type Fault = readonly [what: string, from: string | RegExp, to: string, found: string];

const whole = (name: string): RegExp => new RegExp(`<${name}>.*?</${name}>`, 's');
const pair = (first: string, second: string): RegExp =>
  new RegExp(`(<${first}>(?:(?!<${first}>).)*?</${first}>)(<${second}>.*?</${second}>)`, 's');

const KML_FAULTS: readonly Fault[] = [
  ['a bare ampersand', '<name>small', '<name>&', 'not well-formed'],
  ['an end of CDATA', '<name>small', '<name>]]>', 'not well-formed'],
  ['a control character', '<name>small', '<name>\u0001', 'a character that XML bars'],
  ['another root', /kml/g, 'kmz', 'the root is'],
  ['text between elements', '</Placemark>', 'x</Placemark>', 'Placemark: text between elements'],
  ['a style after the data', pair('Style', 'ExtendedData'), '$2$1', 'Placemark: Style out of order'],
  ['a width before its colour', pair('color', 'width'), '$2$1', 'LineStyle: color out of order'],
  ['a folder before a schema', /(<Schema.*<\/Schema>)(.*<\/Folder>)/s, '$2$1', 'Document: Schema out of order'],
  ['an unknown element', /<(\/?)width>/g, '<$1breadth>', 'LineStyle: unknown element breadth'],
  ['an element without a row', '<Placemark>', '<Placemark><visibility/>', 'visibility is not in the table'],
  ['a name twice', '<name>small</name>', '<name>a</name><name>b</name>', 'Document: 2 of name'],
  ['a collection of one', /(<MultiGeometry>)<LineString>.*?<\/LineString>/, '$1', 'MultiGeometry: 1 of'],
  ['a polygon without its ring', whole('outerBoundaryIs'), '', 'Polygon: 0 of outerBoundaryIs'],
  ['no name of a datum', /<SimpleData name="\w+">/, '<SimpleData>', 'SimpleData: no attribute name'],
  ['a colour as HTML has it', /<color>\w+</, '<color>#4a443a<', 'text of color is no colour'],
  ['an id with a space', /schema_segments/g, 'schema segments', 'Schema id is no ID'],
  ['an id twice', 'id="schema_segments"', 'id="schema_electrodes"', 'Schema id stands twice'],
  ['a place with an exponent', '<coordinates>10,', '<coordinates>1e1,', 'is no coordinates'],
  ['latitude first', '<coordinates>10,47', '<coordinates>10,147', 'is no coordinates'],
  ['a line of one place', /(<LineString>.*?<coordinates>\S+) [^<]*/, '$1', 'LineString of 1 tuples'],
  ['an open ring', /(<LinearRing><coordinates>)\S+/, '$110.5,47', 'LinearRing is open'],
  ['data of no schema', '"#schema_segments"', '"#schema_lines"', 'SchemaData of no Schema'],
  ['a datum without a field', 'SimpleData name="sid"', 'SimpleData name="Sid"', 'SimpleData Sid without a field'],
  ['a fraction for a count', /("reading_count">)3/, '$13.5', 'SimpleData reading_count is no int'],
];
const GPX_FAULTS: readonly Fault[] = [
  ['an element that is not closed', '</metadata>', '', 'not well-formed'],
  ['an attribute twice', ' lat=', ' lat="1" lat=', 'not well-formed'],
  ['a NUL by its number', '<name>small', '<name>&#0;', 'a character that XML bars'],
  ['a name before a height', pair('ele', 'name'), '$2$1', 'wpt: ele out of order'],
  ['a type before its source', pair('src', 'type'), '$2$1', 'wpt: src out of order'],
  ['an element of another place', '<src>', '<keywords>a</keywords><src>', 'wpt: unknown element keywords'],
  ['an unknown attribute', '<wpt ', '<wpt height="1" ', 'wpt: unknown attribute height'],
  ['no latitude', / lat="[^"]*"/, '', 'wpt: no attribute lat'],
  ['GPX 1.0', 'version="1.1"', 'version="1.0"', 'gpx version is no 1.1'],
  ['a date for a time', whole('time'), '<time>2026-11-25</time>', 'text of time is no dateTime'],
  ['the 30th of February', whole('time'), '<time>2026-02-30T12:00:00Z</time>', 'text of time is no dateTime'],
  ['180° as a longitude', /lon="[^"]*"/, 'lon="180"', 'wpt lon is no longitude'],
  ['a latitude beyond the pole', /lat="[^"]*"/, 'lat="90.1"', 'wpt lat is no latitude'],
  ['a height with an exponent', whole('ele'), '<ele>4e-7</ele>', 'text of ele is no decimal'],
];
const SLD_FAULTS: readonly Fault[] = [
  ['another namespace', 'http://www.opengis.net/sld"', 'http://www.opengis.net/se"', 'the root is'],
  ['a title after the filter', pair('Title', 'ogc:Filter'), '$2$1', 'Rule: Title out of order'],
  [
    'a pattern before its property',
    /(<ogc:PropertyName>doubts<.*?>)(<ogc:Literal>.*?<\/ogc:Literal>)/,
    '$2$1',
    'ogc:PropertyIsLike: ogc:PropertyName out of order',
  ],
  ['a filter and an else filter', '<ElseFilter/>', '<ogc:Filter/><ElseFilter/>', 'Rule: 2 of ogc:Filter|ElseFilter'],
  ['a comparison of three', '<ogc:Literal>', '<ogc:Literal/><ogc:Literal>', 'ogc:PropertyIsEqualTo: 3 of'],
  ['a conjunction of one', whole('ogc:PropertyIsNull'), '', 'ogc:And: 1 of'],
  ['a rule that draws nothing', whole('LineSymbolizer'), '', 'Rule: 0 of'],
  ['a layer without a name', '<Name>segments</Name>', '', 'NamedLayer: 0 of Name'],
  ['no version', ' version="1.0.0"', '', 'StyledLayerDescriptor: no attribute version'],
  ['no escape of a pattern', ' escape="!"', '', 'ogc:PropertyIsLike: no attribute escape'],
  ['a parameter that no stroke has', 'name="stroke-width"', 'name="width"', 'CssParameter name is no cssName'],
];

describe.each([
  ['kml', KML_FAULTS],
  ['gpx', GPX_FAULTS],
  ['sld', SLD_FAULTS],
] as const)('a %s is found wrong', (format, faults) => {
  it.each(faults)('with %s', (_what, from, to, found) => {
    const broken = SMALL[format].replace(from, to);
    expect(broken).not.toBe(SMALL[format]);
    expect(breaches(format, broken).join('\n')).toContain(found);
  });
});
