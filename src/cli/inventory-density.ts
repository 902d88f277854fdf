import { basename, dirname } from 'node:path';
import { coordinate } from '../exchange/write/coordinate';
import { geojsonPieces } from '../exchange/write/geojson';
import type { LayerFeature } from '../exchange/write/layer-collection';
import { type DensityCell, density, MOST_CELLS } from '../karst/density';
import { EQUAL_AREA_WORDS } from '../karst/equal-area';
import { featuresWords, leftOutWords } from '../karst/feature-words';
import { counted } from '../survey/wording';
import { faultOf, printable } from './faults';
import { COUNT_OPTIONS, countedOf, lengthOption, placedOf } from './inventory-counted';
import { readDocument, readKeepers } from './inventory-read';
import { parsed } from './options';
import { writeFiles } from './write-files';

const DEFAULT_CELL_M = 1000;

/** `inventory density`: features in squares of an equal-area plane, and by a kernel when a bandwidth is said. */
export function inventoryDensity(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    ...COUNT_OPTIONS,
    cell: { type: 'string' },
    bandwidth: { type: 'string' },
    out: { type: 'string' },
  });
  const cellM = lengthOption(values.cell, '--cell', 1) ?? DEFAULT_CELL_M;
  const bandwidthM = lengthOption(values.bandwidth, '--bandwidth', 1);
  const { out } = values;
  if (out !== undefined && !/\.geojson$/i.test(out))
    throw faultOf('arguments', '--out', out, 'a file that ends in .geojson');
  const { files, inputs, places, leftOut } = gathered(positionals, values);
  const result = density(places, cellM, bandwidthM);
  if (result === null && places.length > 0) {
    throw faultOf(
      'arguments',
      '--cell',
      String(cellM),
      `larger cells or a smaller bandwidth: these make more than ${MOST_CELLS} cells`,
    );
  }
  const cells = result?.cells ?? [];
  if (out !== undefined) {
    writeFiles(
      dirname(out),
      [{ name: basename(out), text: geojsonPieces(cellFeatures(cells, cellM, bandwidthM)) }],
      inputs,
    );
  }
  const most = cells.reduce((peak, { count }) => Math.max(peak, count), 0);
  if (values.json) {
    const document = {
      files,
      features: places.length,
      left_out: leftOut,
      cell_m: cellM,
      bandwidth_m: bandwidthM,
      kernel: bandwidthM === null ? null : 'quartic',
      plane: EQUAL_AREA_WORDS,
      middle: result ? { lon: result.middle.lon, lat: result.middle.lat } : null,
      cells: cells.map(({ column, row, corners, count, perKm2, kernelPerKm2 }) => ({
        column,
        row,
        south_west: corners[0] ? coordinate(corners[0]) : null,
        count,
        per_km2: rounded(perKm2),
        kernel_per_km2: kernelPerKm2 === null ? null : rounded(kernelPerKm2),
      })),
      file: out ?? null,
    };
    print(JSON.stringify(document, null, 2));
    return 0;
  }
  const notCounted = leftOutWords(leftOut);
  const lines = [
    `${featuresWords(places.length)} in ${counted(cells.filter(({ count }) => count > 0).length, 'square')} of ${cellM} m; ${most} at most in one.`,
    ...(notCounted === '' ? [] : [`  ${notCounted}`]),
    ...(bandwidthM === null ? [] : [`  Kernel: quartic, bandwidth ${bandwidthM} m.`]),
    `  ${EQUAL_AREA_WORDS}`,
    ...(out === undefined ? [] : [`${out} written`]),
  ];
  print(lines.map(printable).join('\n'));
  return 0;
}

function* cellFeatures(
  cells: readonly DensityCell[],
  cellM: number,
  bandwidthM: number | null,
): Generator<LayerFeature> {
  for (const { column, row, corners, count, perKm2, kernelPerKm2 } of cells) {
    const sid = `cell:${column}:${row}`;
    const ring = [...corners, corners[0] as (typeof corners)[number]].map((corner) => [...coordinate(corner)]);
    yield {
      type: 'Feature',
      id: sid,
      properties: {
        sid,
        features: String(count),
        per_km2: rounded(perKm2),
        kernel_per_km2: kernelPerKm2 === null ? null : rounded(kernelPerKm2),
        cell_m: cellM,
        bandwidth_m: bandwidthM,
      },
      geometry: { type: 'MultiPolygon', coordinates: [[ring]] },
    };
  }
}

/** What the cells are made of, without the features: a hundred thousand of them need not be kept while cells are written. */
function gathered(
  positionals: readonly string[],
  values: { columns?: string; types?: string; 'with-unverified'?: boolean },
) {
  const keepers = readKeepers(positionals, values.columns);
  const { features, leftOut } = countedOf(placedOf(keepers).placed, values);
  return {
    files: keepers.map(readDocument),
    inputs: keepers.flatMap(({ inputs }) => inputs),
    places: features.map(({ place }) => place),
    leftOut,
  };
}

const rounded = (value: number): number => Number(value.toPrecision(6));
