import { mkdtempSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';

interface GdalTransform {
  gdaltransform(points: readonly (readonly number[])[], options: readonly string[]): Promise<number[][]>;
}

let opened: Promise<GdalTransform> | null = null;

/**
 * Longitude, latitude (WGS 84) to a system of the EPSG register by the PROJ inside gdal3.js: east first, then north,
 * whatever the order of the register's axes.
 */
export async function projectByGdal(
  lonLats: readonly (readonly [number, number])[],
  code: string,
): Promise<readonly (readonly [number, number])[]> {
  opened ??= (async () => {
    const initialise = (await import('gdal3.js/node.js')).default as (options: object) => Promise<GdalTransform>;
    // gdal3.js puts "./" before whatever path it is given.
    const folder = join(dirname(createRequire(import.meta.url).resolve('gdal3.js/node.js')), 'dist/package');
    return initialise({
      path: relative(process.cwd(), folder),
      dest: mkdtempSync(join(tmpdir(), 'gdal-')),
      logHandler: () => {},
      errorHandler: () => {},
    });
  })();
  const tool = await opened;
  const options = ['-s_srs', '+proj=longlat +datum=WGS84 +no_defs', '-t_srs', code];
  const points = await tool.gdaltransform(lonLats, options);
  return points.map(([x, y]) => [x as number, y as number]);
}
