import type { Geometry, Position } from 'geojson';
import type { Database, SqlJsStatic, SqlValue } from 'sql.js';
import {
  columnName,
  type DictionaryLayer,
  GEOMETRY_TYPES,
  LAYER_MEANINGS,
  LAYER_PROPERTIES,
  type Property,
} from './dictionary';
import type { LayerFeature } from './layer-collection';
import { writable } from './written-text';

/*
 * OGC GeoPackage 1.3 (OGC 12-128r17), feature tables only: what a database of places is for programs that take one file.
 * No R-tree: it is an extension, and readers that want one make it.
 */

export interface GeopackageLayer {
  readonly name: DictionaryLayer;
  readonly features: Iterable<LayerFeature>;
}

/** "GPKG" (Requirement 2). */
const APPLICATION_ID = 0x47504b47;
const USER_VERSION = 10_300;
const SRS_ID = 4326;

const WKT_4326 =
  'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AUTHORITY["EPSG","4326"]]';

/** Tables of the standard (annex C), and of its schema extension (annex F.9), which says what columns mean. */
const TABLES = `
CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER NOT NULL PRIMARY KEY, organization TEXT NOT NULL, organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);
CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE, description TEXT DEFAULT '', last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')), min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER, CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL, CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name), CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name), CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id));
CREATE TABLE gpkg_extensions (table_name TEXT, column_name TEXT, extension_name TEXT NOT NULL, definition TEXT NOT NULL, scope TEXT NOT NULL, CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name));
CREATE TABLE gpkg_data_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, name TEXT, title TEXT, description TEXT, mime_type TEXT, constraint_name TEXT, CONSTRAINT pk_gdc PRIMARY KEY (table_name, column_name), CONSTRAINT gdc_tn UNIQUE (table_name, name));
CREATE TABLE gpkg_data_column_constraints (constraint_name TEXT NOT NULL, constraint_type TEXT NOT NULL, value TEXT, min NUMERIC, min_is_inclusive BOOLEAN, max NUMERIC, max_is_inclusive BOOLEAN, description TEXT, CONSTRAINT gdcc_ntv UNIQUE (constraint_name, constraint_type, value));
`;
const SCHEMA_DEFINITION = 'http://www.geopackage.org/spec130/#extension_schema';

const SQL_TYPE = { text: 'TEXT', integer: 'INTEGER', real: 'DOUBLE' } as const;

/**
 * The bytes of a GeoPackage with one feature table a layer; the same for the same layers and time.
 * `madeAt` is ISO 8601 and becomes the last change of every table. Text that SQLite would end early is made writable.
 */
export function geopackage(sql: SqlJsStatic, layers: Iterable<GeopackageLayer>, madeAt: string): Uint8Array {
  const db = new sql.Database();
  try {
    db.run(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${USER_VERSION};`);
    db.run('BEGIN');
    db.run(TABLES);
    const addSystem = 'INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, ?)';
    db.run(addSystem, ['WGS 84', SRS_ID, 'EPSG', 4326, WKT_4326, 'longitude and latitude, degrees']);
    db.run(addSystem, ['Undefined Cartesian', -1, 'NONE', -1, 'undefined', 'undefined Cartesian system']);
    db.run(addSystem, ['Undefined geographic', 0, 'NONE', 0, 'undefined', 'undefined geographic system']);
    const addExtension = 'INSERT INTO gpkg_extensions VALUES (?, NULL, ?, ?, ?)';
    for (const table of ['gpkg_data_columns', 'gpkg_data_column_constraints'])
      db.run(addExtension, [table, 'gpkg_schema', SCHEMA_DEFINITION, 'read-write']);
    const changed = new Date(madeAt).toISOString();
    for (const layer of layers) addLayer(db, layer, changed);
    db.run('COMMIT');
    return db.export();
  } finally {
    db.close();
  }
}

function addLayer(db: Database, { name, features }: GeopackageLayer, changed: string): void {
  const properties = LAYER_PROPERTIES[name];
  const type = GEOMETRY_TYPES[name].toUpperCase();
  const columns = properties.map((property) => `"${columnName(property.name)}" ${SQL_TYPE[property.type]}`);
  db.run(
    `CREATE TABLE "${name}" (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geom ${type}, ${columns.join(', ')})`,
  );
  db.run('INSERT INTO gpkg_contents VALUES (?, ?, ?, ?, ?, NULL, NULL, NULL, NULL, ?)', [
    name,
    'features',
    name,
    LAYER_MEANINGS[name],
    changed,
    SRS_ID,
  ]);
  db.run('INSERT INTO gpkg_geometry_columns VALUES (?, ?, ?, ?, 0, 0)', [name, 'geom', type, SRS_ID]);
  for (const property of properties) {
    db.run('INSERT INTO gpkg_data_columns VALUES (?, ?, ?, ?, ?, NULL, NULL)', [
      name,
      columnName(property.name),
      columnName(property.name),
      property.unit ? `${property.name} (${property.unit})` : property.name,
      describe(property),
    ]);
  }
  const extent: Extent = [Infinity, Infinity, -Infinity, -Infinity];
  const add = db.prepare(`INSERT INTO "${name}" VALUES (NULL, ?, ${properties.map(() => '?').join(', ')})`);
  try {
    for (const feature of features) {
      const row: SqlValue[] = [geometryBlob(feature.geometry, extent)];
      for (const property of properties) {
        const value = feature.properties[property.name] ?? null;
        row.push(typeof value === 'string' ? writable(value) : value);
      }
      add.run(row);
    }
  } finally {
    add.free();
  }
  if (extent[0] <= extent[2]) {
    db.run('UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, max_y = ? WHERE table_name = ?', [
      ...extent,
      name,
    ]);
  }
}

const describe = ({ meaning, allowed, nullMeans }: Property): string =>
  [meaning, allowed ? `One of: ${allowed.join(', ')}.` : null, nullMeans ? `Null: ${nullMeans}.` : null]
    .filter((part) => part !== null)
    .join(' ');

type Extent = [west: number, south: number, east: number, north: number];

const WKB_TYPE = { Point: 1, LineString: 2, Polygon: 3, MultiLineString: 5, MultiPolygon: 6 } as const;
const POINT_HEADER = 8;
const HEADER = 40;

/** GeoPackageBinary (2.1.3): header, for all but points with the envelope, then well-known binary, little-endian. */
function geometryBlob(geometry: Geometry, extent: Extent): Uint8Array {
  const own: Extent = [Infinity, Infinity, -Infinity, -Infinity];
  const header = geometry.type === 'Point' ? POINT_HEADER : HEADER;
  const bytes = new Uint8Array(header + sizeOf(geometry));
  const view = new DataView(bytes.buffer);
  let at = header;
  const count = (value: number): void => {
    view.setUint32(at, value, true);
    at += 4;
  };
  const head = (type: number): void => {
    view.setUint8(at, 1);
    at += 1;
    count(type);
  };
  const position = ([lon = 0, lat = 0]: Position): void => {
    view.setFloat64(at, lon, true);
    view.setFloat64(at + 8, lat, true);
    at += 16;
    if (lon < own[0]) own[0] = lon;
    if (lat < own[1]) own[1] = lat;
    if (lon > own[2]) own[2] = lon;
    if (lat > own[3]) own[3] = lat;
  };
  const path = (positions: readonly Position[]): void => {
    count(positions.length);
    for (const each of positions) position(each);
  };
  switch (geometry.type) {
    case 'Point':
      head(WKB_TYPE.Point);
      position(geometry.coordinates);
      break;
    case 'LineString':
      head(WKB_TYPE.LineString);
      path(geometry.coordinates);
      break;
    case 'MultiLineString':
      head(WKB_TYPE.MultiLineString);
      count(geometry.coordinates.length);
      for (const line of geometry.coordinates) {
        head(WKB_TYPE.LineString);
        path(line);
      }
      break;
    case 'MultiPolygon':
      head(WKB_TYPE.MultiPolygon);
      count(geometry.coordinates.length);
      for (const rings of geometry.coordinates) {
        head(WKB_TYPE.Polygon);
        count(rings.length);
        for (const ring of rings) path(ring);
      }
      break;
    default:
      throw new Error(`no layer holds a ${geometry.type}`);
  }
  bytes.set([0x47, 0x50, 0, header === HEADER ? 0b0000_0011 : 0b0000_0001]);
  view.setInt32(4, SRS_ID, true);
  if (header === HEADER) {
    for (const [i, value] of [own[0], own[2], own[1], own[3]].entries()) view.setFloat64(8 + 8 * i, value, true);
  }
  extent[0] = Math.min(extent[0], own[0]);
  extent[1] = Math.min(extent[1], own[1]);
  extent[2] = Math.max(extent[2], own[2]);
  extent[3] = Math.max(extent[3], own[3]);
  return bytes;
}

function sizeOf(geometry: Geometry): number {
  const pathSize = (positions: readonly Position[]): number => 4 + 16 * positions.length;
  switch (geometry.type) {
    case 'Point':
      return 5 + 16;
    case 'LineString':
      return 5 + pathSize(geometry.coordinates);
    case 'MultiLineString':
      return geometry.coordinates.reduce((sum, line) => sum + 5 + pathSize(line), 9);
    case 'MultiPolygon':
      return geometry.coordinates.reduce(
        (sum, rings) => rings.reduce((inner, ring) => inner + pathSize(ring), sum + 9),
        9,
      );
    default:
      return 0;
  }
}
