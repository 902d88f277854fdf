/*
 * What the published XML Schemas ask of the elements that our KML, GPX and SLD files hold: facts taken from their texts, the
 * schema document and its type beside each. An element that is allowed but never written by us has no row of its own.
 *
 *   ogckml22.xsd                 OGC KML 2.2.0 (07-147r2, Annex A), text of 2008-01-23; extension groups have no members there
 *   ATC n                        OGC 07-134r2, abstract test suite of KML 2.2
 *   gpx.xsd                      GPX 1.1, http://www.topografix.com/GPX/1/1
 *   StyledLayerDescriptor.xsd    OGC SLD 1.0.0 (02-070), schema version 1.0.0.2
 *   filter.xsd, expr.xsd         OGC Filter Encoding 1.0.0, schema version 1.0.0.2
 *   Datatypes                    W3C XML Schema Part 2: Datatypes, second edition
 *
 * Read in public copies: geotools/geotools (xsd-kml), opengeospatial/ets-kml2 (07-134r2), gista/django-geoshortcuts (gpx.xsd),
 * highsource/ogc-schemas (SLD and filter).
 */

/** The lexical forms that attributes and texts may have. */
const DECIMAL = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)$/;
const isDecimal = (text: string): boolean => DECIMAL.test(text);
const within = (text: string, from: number, to: number): boolean =>
  isDecimal(text) && Number(text) >= from && Number(text) <= to;
/** The ASCII part of the pattern [\i-[:]][\c-[:]]*. */
const isNcName = (text: string): boolean => /^[A-Za-z_][\w.-]*$/.test(text);

export const FORMS = {
  /** Datatypes 3.2.1. */
  string: () => true,
  /** Datatypes 3.2.2. */
  boolean: (text: string) => /^(?:true|false|1|0)$/.test(text),
  /** Datatypes 3.2.3.1. */
  decimal: isDecimal,
  /** Datatypes 3.2.5.1. */
  double: (text: string) => /^(?:-?INF|NaN)$/.test(text) || isDecimal(text.replace(/[eE][+-]?\d+$/, '')),
  /** Datatypes, int: 32 bits with a sign. */
  int: (text: string) => /^[+-]?\d+$/.test(text) && within(text, -2_147_483_648, 2_147_483_647),
  /** Datatypes 3.2.7.1 and 3.2.7.3: no plus sign, no year 0000, days that the month has. */
  dateTime: (text: string) => {
    const [, day = ''] =
      /^(\d{4}-\d\d-\d\d)T(?:[01]\d|2[0-3]):[0-5]\d:[0-5]\d(?:\.\d+)?(?:Z|[+-](?:0\d|1[0-3]):[0-5]\d|[+-]14:00)?$/.exec(
        text,
      ) ?? [];
    const time = Date.parse(`${day}T00:00:00Z`);
    return !day.startsWith('0000') && !Number.isNaN(time) && new Date(time).toISOString().startsWith(day);
  },
  /** Datatypes, NCName: pattern [\i-[:]][\c-[:]]*. */
  NCName: isNcName,
  /** Datatypes, ID: an NCName that stands once in a document. */
  ID: isNcName,
  /** Datatypes, anyURI: without what RFC 2396, 2.4.3 bars (from memory). */
  anyURI: (text: string) => /^[^\s<>"{}|\\^`]+$/.test(text),
  /** ogckml22.xsd colorType: hexBinary of four octets, aabbggrr. */
  colour: (text: string) => /^[0-9a-fA-F]{8}$/.test(text),
  /** ATC 3: tuples of two or three xsd:decimal; ranges as of angle180Type and angle90Type. */
  coordinates: (text: string) =>
    text.split(/\s+/).every((tuple) => {
      const [lon = '', lat = '', ...height] = tuple.split(',');
      return within(lon, -180, 180) && within(lat, -90, 90) && height.length < 2 && height.every(isDecimal);
    }),
  /** ATC 26 and the example of 07-147r2, 9.5.5: those of the allowed types that are written. */
  fieldType: (text: string) => ['string', 'int', 'double'].includes(text),
  /** gpx.xsd latitudeType. */
  latitude: (text: string) => within(text, -90, 90),
  /** gpx.xsd longitudeType: 180 itself is left out. */
  longitude: (text: string) => within(text, -180, 180) && Number(text) < 180,
  /** gpx.xsd gpxType, fixed. */
  '1.1': (text: string) => text === '1.1',
  /** StyledLayerDescriptor.xsd, fixed. */
  '1.0.0': (text: string) => text === '1.0.0',
  /** StyledLayerDescriptor.xsd, annotations of Stroke and Fill. */
  cssName: (text: string) =>
    /^(?:stroke(?:-(?:opacity|width|linejoin|linecap|dasharray|dashoffset))?|fill(?:-opacity)?)$/.test(text),
} as const satisfies Record<string, (text: string) => boolean>;
export type Form = keyof typeof FORMS;

export interface ElementFacts {
  /** Who says so. */
  readonly from: string;
  /** Children in their order, `a? (b|c)* d+ e{2} f{2,}`, those of other namespaces with their prefix; absent = none. */
  readonly children?: string;
  /** Forms of the attributes; a name that ends in `!` is required. */
  readonly attributes?: Readonly<Record<string, Form>>;
  /** Form of the text; absent = nothing but white space. */
  readonly text?: Form;
}

export interface XmlSchema {
  readonly root: string;
  /** Prefixes that names have in the table, by namespace; '' for the schema's own. */
  readonly prefixes: Readonly<Record<string, string>>;
  readonly elements: Readonly<Record<string, ElementFacts>>;
}

/** Members of the substitution groups of ogckml22.xsd. */
const FEATURE = 'NetworkLink|Document|Folder|Placemark|GroundOverlay|PhotoOverlay|ScreenOverlay';
const GEOMETRY = 'MultiGeometry|Point|LineString|LinearRing|Polygon|Model';
/** ogckml22.xsd AbstractFeatureType: LookAt and Camera are views, TimeStamp and TimeSpan times, Style and StyleMap styles. */
const ABSTRACT_FEATURE =
  'name? visibility? open? atom:author? atom:link? address? xal:AddressDetails? phoneNumber? (Snippet|snippet)? description? ' +
  '(LookAt|Camera)? (TimeStamp|TimeSpan)? styleUrl? (Style|StyleMap)* Region? (Metadata|ExtendedData)?';
/** ogckml22.xsd AbstractObjectType, idAttributes. */
const OBJECT = { id: 'ID', targetId: 'NCName' } as const;

export const KML: XmlSchema = {
  root: 'kml',
  prefixes: {
    'http://www.opengis.net/kml/2.2': '',
    'http://www.w3.org/2005/Atom': 'atom:',
    'urn:oasis:names:tc:ciq:xsdschema:xAL:2.0': 'xal:',
  },
  elements: {
    kml: {
      from: 'ogckml22.xsd KmlType',
      children: `NetworkLinkControl? (${FEATURE})?`,
      attributes: { hint: 'string' },
    },
    Document: {
      from: 'ogckml22.xsd DocumentType',
      children: `${ABSTRACT_FEATURE} Schema* (${FEATURE})*`,
      attributes: OBJECT,
    },
    Folder: { from: 'ogckml22.xsd FolderType', children: `${ABSTRACT_FEATURE} (${FEATURE})*`, attributes: OBJECT },
    Placemark: {
      from: 'ogckml22.xsd PlacemarkType',
      children: `${ABSTRACT_FEATURE} (${GEOMETRY})?`,
      attributes: OBJECT,
    },
    Schema: {
      from: 'ogckml22.xsd SchemaType; id: ATC 25',
      children: 'SimpleField*',
      attributes: { name: 'string', 'id!': 'ID' },
    },
    SimpleField: {
      from: 'ogckml22.xsd SimpleFieldType; attributes: ATC 26',
      children: 'displayName?',
      attributes: { 'type!': 'fieldType', 'name!': 'string' },
    },
    ExtendedData: { from: 'ogckml22.xsd ExtendedDataType', children: 'Data* SchemaData*' },
    SchemaData: {
      from: 'ogckml22.xsd SchemaDataType; schemaUrl: ATC 27',
      children: 'SimpleData*',
      attributes: { ...OBJECT, 'schemaUrl!': 'anyURI' },
    },
    SimpleData: { from: 'ogckml22.xsd SimpleDataType', attributes: { 'name!': 'string' }, text: 'string' },
    Style: {
      from: 'ogckml22.xsd StyleType',
      children: 'IconStyle? LabelStyle? LineStyle? PolyStyle? BalloonStyle? ListStyle?',
      attributes: OBJECT,
    },
    IconStyle: {
      from: 'ogckml22.xsd AbstractColorStyleType, IconStyleType',
      children: 'color? colorMode? scale? heading? Icon? hotSpot?',
      attributes: OBJECT,
    },
    LineStyle: {
      from: 'ogckml22.xsd AbstractColorStyleType, LineStyleType',
      children: 'color? colorMode? width?',
      attributes: OBJECT,
    },
    PolyStyle: {
      from: 'ogckml22.xsd AbstractColorStyleType, PolyStyleType',
      children: 'color? colorMode? fill? outline?',
      attributes: OBJECT,
    },
    MultiGeometry: {
      from: 'ogckml22.xsd MultiGeometryType; two or more: ATC 66',
      children: `(${GEOMETRY}){2,}`,
      attributes: OBJECT,
    },
    Point: {
      from: 'ogckml22.xsd PointType; ATC 14',
      children: 'extrude? altitudeMode? coordinates',
      attributes: OBJECT,
    },
    LineString: {
      from: 'ogckml22.xsd LineStringType; ATC 15',
      children: 'extrude? tessellate? altitudeMode? coordinates',
      attributes: OBJECT,
    },
    Polygon: {
      from: 'ogckml22.xsd PolygonType; outerBoundaryIs: ATC 17',
      children: 'extrude? tessellate? altitudeMode? outerBoundaryIs innerBoundaryIs*',
      attributes: OBJECT,
    },
    outerBoundaryIs: { from: 'ogckml22.xsd BoundaryType', children: 'LinearRing?' },
    innerBoundaryIs: { from: 'ogckml22.xsd BoundaryType', children: 'LinearRing?' },
    LinearRing: {
      from: 'ogckml22.xsd LinearRingType; in a polygon: ATC 16, 48',
      children: 'coordinates',
      attributes: OBJECT,
    },
    coordinates: { from: 'ogckml22.xsd coordinatesType', text: 'coordinates' },
    name: { from: 'ogckml22.xsd element name', text: 'string' },
    description: { from: 'ogckml22.xsd element description', text: 'string' },
    displayName: { from: 'ogckml22.xsd element displayName', text: 'string' },
    color: { from: 'ogckml22.xsd element color', text: 'colour' },
    width: { from: 'ogckml22.xsd element width', text: 'double' },
    scale: { from: 'ogckml22.xsd element scale', text: 'double' },
    tessellate: { from: 'ogckml22.xsd element tessellate', text: 'boolean' },
  },
};

/** How many tuples the coordinates of a geometry have, at least and at most: ATC 14, 15, 16. A ring ends where it begins. */
export const KML_TUPLES: Readonly<Record<string, readonly [least: number, most: number]>> = {
  Point: [1, 1],
  LineString: [2, Infinity],
  LinearRing: [4, Infinity],
};

export const GPX: XmlSchema = {
  root: 'gpx',
  prefixes: { 'http://www.topografix.com/GPX/1/1': '' },
  elements: {
    gpx: {
      from: 'gpx.xsd gpxType',
      children: 'metadata? wpt* rte* trk* extensions?',
      attributes: { 'version!': '1.1', 'creator!': 'string' },
    },
    metadata: {
      from: 'gpx.xsd metadataType',
      children: 'name? desc? author? copyright? link* time? keywords? bounds? extensions?',
    },
    wpt: {
      from: 'gpx.xsd wptType',
      children:
        'ele? time? magvar? geoidheight? name? cmt? desc? src? link* sym? type? fix? sat? hdop? vdop? pdop? ' +
        'ageofdgpsdata? dgpsid? extensions?',
      attributes: { 'lat!': 'latitude', 'lon!': 'longitude' },
    },
    ele: { from: 'gpx.xsd wptType', text: 'decimal' },
    time: { from: 'gpx.xsd metadataType, wptType', text: 'dateTime' },
    name: { from: 'gpx.xsd metadataType, wptType', text: 'string' },
    desc: { from: 'gpx.xsd metadataType, wptType', text: 'string' },
    src: { from: 'gpx.xsd wptType', text: 'string' },
    type: { from: 'gpx.xsd wptType', text: 'string' },
  },
};

/** Members of the substitution groups of StyledLayerDescriptor.xsd, expr.xsd and filter.xsd. */
const SYMBOLIZER = 'LineSymbolizer|PolygonSymbolizer|PointSymbolizer|TextSymbolizer|RasterSymbolizer';
const EXPRESSION = 'ogc:Add|ogc:Sub|ogc:Mul|ogc:Div|ogc:PropertyName|ogc:Function|ogc:Literal';
const COMPARISON =
  'ogc:PropertyIsEqualTo|ogc:PropertyIsNotEqualTo|ogc:PropertyIsLessThan|ogc:PropertyIsGreaterThan|' +
  'ogc:PropertyIsLessThanOrEqualTo|ogc:PropertyIsGreaterThanOrEqualTo|ogc:PropertyIsLike|ogc:PropertyIsNull|' +
  'ogc:PropertyIsBetween';
const SPATIAL =
  'ogc:Equals|ogc:Disjoint|ogc:Touches|ogc:Within|ogc:Overlaps|ogc:Crosses|ogc:Intersects|ogc:Contains|ogc:DWithin|' +
  'ogc:Beyond|ogc:BBOX';
const CONDITION = `${COMPARISON}|${SPATIAL}|ogc:And|ogc:Or|ogc:Not`;

export const SLD: XmlSchema = {
  root: 'StyledLayerDescriptor',
  prefixes: { 'http://www.opengis.net/sld': '', 'http://www.opengis.net/ogc': 'ogc:' },
  elements: {
    StyledLayerDescriptor: {
      from: 'StyledLayerDescriptor.xsd element StyledLayerDescriptor',
      children: 'Name? Title? Abstract? (NamedLayer|UserLayer)*',
      attributes: { 'version!': '1.0.0' },
    },
    NamedLayer: {
      from: 'StyledLayerDescriptor.xsd element NamedLayer',
      children: 'Name LayerFeatureConstraints? (NamedStyle|UserStyle)*',
    },
    UserStyle: {
      from: 'StyledLayerDescriptor.xsd element UserStyle',
      children: 'Name? Title? Abstract? IsDefault? FeatureTypeStyle+',
    },
    FeatureTypeStyle: {
      from: 'StyledLayerDescriptor.xsd element FeatureTypeStyle',
      children: 'Name? Title? Abstract? FeatureTypeName? SemanticTypeIdentifier* Rule+',
    },
    Rule: {
      from: 'StyledLayerDescriptor.xsd element Rule',
      children:
        'Name? Title? Abstract? LegendGraphic? (ogc:Filter|ElseFilter)? MinScaleDenominator? MaxScaleDenominator? ' +
        `(${SYMBOLIZER})+`,
    },
    ElseFilter: { from: 'StyledLayerDescriptor.xsd element ElseFilter' },
    LineSymbolizer: { from: 'StyledLayerDescriptor.xsd element LineSymbolizer', children: 'Geometry? Stroke?' },
    PolygonSymbolizer: {
      from: 'StyledLayerDescriptor.xsd element PolygonSymbolizer',
      children: 'Geometry? Fill? Stroke?',
    },
    Stroke: {
      from: 'StyledLayerDescriptor.xsd element Stroke',
      children: '(GraphicFill|GraphicStroke)? CssParameter*',
    },
    Fill: { from: 'StyledLayerDescriptor.xsd element Fill', children: 'GraphicFill? CssParameter*' },
    GraphicFill: { from: 'StyledLayerDescriptor.xsd element GraphicFill', children: 'Graphic' },
    Graphic: {
      from: 'StyledLayerDescriptor.xsd element Graphic',
      children: '(ExternalGraphic|Mark)* Opacity? Size? Rotation?',
    },
    Mark: { from: 'StyledLayerDescriptor.xsd element Mark', children: 'WellKnownName? Fill? Stroke?' },
    CssParameter: {
      from: 'StyledLayerDescriptor.xsd element CssParameter, ParameterValueType',
      children: `(${EXPRESSION})*`,
      attributes: { 'name!': 'cssName' },
      text: 'string',
    },
    Size: { from: 'StyledLayerDescriptor.xsd ParameterValueType', children: `(${EXPRESSION})*`, text: 'string' },
    Name: { from: 'StyledLayerDescriptor.xsd element Name', text: 'string' },
    Title: { from: 'StyledLayerDescriptor.xsd element Title', text: 'string' },
    WellKnownName: { from: 'StyledLayerDescriptor.xsd element WellKnownName', text: 'string' },
    // A filter may be a list of FeatureId as well, which we never write.
    'ogc:Filter': { from: 'filter.xsd FilterType', children: `(${CONDITION})` },
    'ogc:And': { from: 'filter.xsd BinaryLogicOpType', children: `(${CONDITION}){2,}` },
    'ogc:PropertyIsEqualTo': { from: 'filter.xsd BinaryComparisonOpType', children: `(${EXPRESSION}){2}` },
    'ogc:PropertyIsNull': { from: 'filter.xsd PropertyIsNullType', children: '(ogc:PropertyName|ogc:Literal)' },
    'ogc:PropertyIsLike': {
      from: 'filter.xsd PropertyIsLikeType',
      children: 'ogc:PropertyName ogc:Literal',
      attributes: { 'wildCard!': 'string', 'singleChar!': 'string', 'escape!': 'string' },
    },
    'ogc:PropertyName': { from: 'expr.xsd PropertyNameType', text: 'string' },
    'ogc:Literal': { from: 'expr.xsd LiteralType', text: 'string' },
  },
};
