import { mkdtempSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import type { FeatureCollection } from 'geojson';

/** Files of many layers opened by GDAL compiled to WebAssembly: the reader that planners have. */
interface Dataset {
  readonly info: {
    readonly driverName: string;
    readonly layers: readonly {
      readonly name: string;
      readonly featureCount: number;
      readonly geometryFields?: readonly { readonly type: string; readonly extent: readonly number[] }[];
      readonly fields: readonly { readonly name: string; readonly type: string }[];
    }[];
  };
}

interface Gdal {
  open(
    path: string,
    options?: readonly string[],
    vfs?: readonly string[],
  ): Promise<{ datasets: Dataset[]; errors: unknown[] }>;
  ogr2ogr(dataset: Dataset, options: readonly string[], name?: string): Promise<{ local: string }>;
  getFileBytes(path: { local: string }): Promise<Uint8Array>;
}

let opened: Promise<Gdal> | null = null;

function gdal(): Promise<Gdal> {
  opened ??= (async () => {
    const initialise = (await import('gdal3.js/node.js')).default as (options: object) => Promise<Gdal>;
    // gdal3.js puts "./" before whatever path it is given.
    const folder = join(dirname(createRequire(import.meta.url).resolve('gdal3.js/node.js')), 'dist/package');
    return initialise({
      path: relative(process.cwd(), folder),
      dest: mkdtempSync(join(tmpdir(), 'gdal-')),
      logHandler: () => {},
      errorHandler: () => {},
    });
  })();
  return opened;
}

export interface OpenedFile {
  readonly info: Dataset['info'];
  /** A layer as GDAL writes it again, 7 decimals. */
  layer(name: string): Promise<FeatureCollection>;
  /** The text of what ogr2ogr makes with these options. */
  converted(options: readonly string[], as: string): Promise<string>;
}

/** Opens bytes with GDAL by the ending of their name; fails on any error that GDAL reports. */
export async function openFile(
  name: string,
  bytes: Uint8Array | string,
  vfs: readonly string[] = [],
): Promise<OpenedFile> {
  const tool = await gdal();
  const path = join(mkdtempSync(join(tmpdir(), 'file-')), name);
  writeFileSync(path, bytes);
  const { datasets, errors } = await tool.open(path, [], vfs);
  const [dataset] = datasets;
  if (errors.length > 0 || !dataset) throw new Error(`GDAL refuses ${name}: ${JSON.stringify(errors)}`);
  const converted = async (options: readonly string[], as: string): Promise<string> =>
    new TextDecoder().decode(await tool.getFileBytes(await tool.ogr2ogr(dataset, options, as)));
  return {
    info: dataset.info,
    converted,
    layer: async (layer) =>
      JSON.parse(
        await converted(['-f', 'GeoJSON', '-lco', 'COORDINATE_PRECISION=7', layer], `${name}-${layer}`),
      ) as FeatureCollection,
  };
}
