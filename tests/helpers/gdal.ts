import { mkdtempSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import type { FeatureCollection } from 'geojson';

/** The part of gdal3.js that the tests use: GDAL compiled to WebAssembly, the reader that planners have. */
interface Gdal {
  open(path: string): Promise<{ datasets: GdalDataset[]; errors: unknown[] }>;
  ogr2ogr(dataset: GdalDataset, options: readonly string[], name?: string): Promise<{ local: string }>;
  getFileBytes(path: { local: string }): Promise<Uint8Array>;
  close(dataset: GdalDataset): Promise<void>;
  gdalinfo(dataset: GdalDataset): Promise<{
    readonly size: readonly number[];
    readonly metadata: Readonly<Record<string, Readonly<Record<string, string>>>>;
  }>;
}

interface GdalDataset {
  readonly info: {
    readonly layers: readonly {
      readonly name: string;
      readonly featureCount: number;
      readonly geometryFields?: readonly { readonly type: string; readonly extent: readonly number[] }[];
      readonly fields: readonly { readonly name: string; readonly type: string }[];
    }[];
  };
}

let opened: Promise<Gdal> | null = null;

function gdal(): Promise<Gdal> {
  opened ??= (async () => {
    const initialise = (await import('gdal3.js/node.js')).default as (options: object) => Promise<Gdal>;
    // gdal3.js puts "./" before whatever path it is given.
    const folder = join(dirname(createRequire(import.meta.url).resolve('gdal3.js/node.js')), 'dist/package');
    const path = relative(process.cwd(), folder);
    return initialise({
      path,
      dest: mkdtempSync(join(tmpdir(), 'gdal-')),
      logHandler: () => {},
      errorHandler: () => {},
    });
  })();
  return opened;
}

export interface GdalLayer {
  readonly featureCount: number;
  readonly geometryType: string;
  readonly fields: Readonly<Record<string, string>>;
  /** The layer as GDAL writes it again after reading it. */
  readonly rewritten: FeatureCollection;
  /** Names of what an SQL select on the layer gave. */
  select(sql: string): Promise<FeatureCollection>;
}

/** Opens a GeoJSON text with GDAL; fails on any error that GDAL reports. */
export async function openWithGdal(name: string, text: string): Promise<GdalLayer> {
  const tool = await gdal();
  const folder = mkdtempSync(join(tmpdir(), 'layer-'));
  const path = join(folder, `${name}.geojson`);
  writeFileSync(path, text);
  const { datasets, errors } = await tool.open(path);
  const [dataset] = datasets;
  if (errors.length > 0 || !dataset) throw new Error(`GDAL refuses ${name}: ${JSON.stringify(errors)}`);
  const [layer] = dataset.info.layers;
  if (!layer) throw new Error(`GDAL finds no layer in ${name}`);
  const out = async (options: readonly string[], as: string): Promise<FeatureCollection> => {
    const written = await tool.ogr2ogr(dataset, ['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=7', ...options], as);
    const bytes = await tool.getFileBytes(written);
    return JSON.parse(new TextDecoder().decode(bytes)) as FeatureCollection;
  };
  return {
    featureCount: layer.featureCount,
    geometryType: layer.geometryFields?.[0]?.type ?? 'none',
    fields: Object.fromEntries(layer.fields.map((field) => [field.name, field.type])),
    rewritten: await out([], `${name}-again`),
    select: (sql) => out(['-dialect', 'SQLite', '-sql', sql], `${name}-selected`),
  };
}

/** What GDAL finds in a picture: its size in dots, and all that is said about it. */
export async function pictureByGdal(name: string, bytes: Uint8Array) {
  const tool = await gdal();
  const path = join(mkdtempSync(join(tmpdir(), 'picture-')), name);
  writeFileSync(path, bytes);
  const { datasets, errors } = await tool.open(path);
  const [dataset] = datasets;
  if (errors.length > 0 || !dataset) throw new Error(`GDAL refuses ${name}: ${JSON.stringify(errors)}`);
  const { size, metadata } = await tool.gdalinfo(dataset);
  return { size, said: metadata[''] ?? {} };
}
