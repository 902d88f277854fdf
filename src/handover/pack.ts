import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { SqlJsStatic } from 'sql.js';
import { isOutside } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { dictionaryCsv, dictionaryDocument } from '../exchange/write/dictionary';
import { encoded } from '../exchange/write/encoded';
import { geojsonStream } from '../exchange/write/geojson';
import { geopackage } from '../exchange/write/geopackage';
import { gpxPieces } from '../exchange/write/gpx';
import { kmlPieces } from '../exchange/write/kml';
import { layerBounds } from '../exchange/write/layer-bounds';
import { segmentsSld, zonesSld } from '../exchange/write/sld';
import { surveyPieces } from '../exchange/write/survey-text';
import { DICTIONARY_TABLES } from '../exchange/write/table-dictionary';
import { surveyTables } from '../exchange/write/tables';
import { done, type Outcome, refuse } from '../survey/outcome';
import { heightsOf } from './heights';
import { metadataText, type WrittenLayer } from './metadata';
import { pageSite } from './page-site';
import { plannerPage } from './planner-page';
import { readmeText } from './readme-text';
import { report } from './report';
import { type ShareLayer, shareLayers } from './share-layers';
import type { ShareTerms } from './terms';
import { type ZipMember, zipMember, zipOf } from './zip';

export interface PackFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface PackTools {
  /** SQLite, loaded by whoever can load it. */
  readonly sql: SqlJsStatic;
  /** Hears the share that is done, 0 to 1. */
  readonly tick?: (fraction: number) => void;
  /** Called where much memory is done with, by whoever can have it given back. */
  readonly giveBack?: () => void;
}

/** A file in pieces, made when they are asked for. */
interface PackSource {
  readonly name: string;
  readonly pieces: Iterable<Uint8Array>;
}

/**
 * The files of a pack. Planners and the public get page, report, GeoJSON and GeoPackage; surveyor and keeper also KML, GPX,
 * tables, styles and the survey. Always with dictionary, metadata, digests and a README. The same input gives the same
 * bytes. Refusals: `bad_time` for a `madeAt` that is no ISO 8601 date; those of `shareLayers`.
 */
export async function packFiles(
  disclosed: Disclosed,
  terms: ShareTerms,
  tools: PackTools,
): Promise<Outcome<readonly PackFile[]>> {
  const files: PackFile[] = [];
  const outcome = eachFile(disclosed, terms, tools, ({ name, pieces }, seen) => {
    const bytes = joined([...pieces]);
    seen(bytes);
    files.push({ name, bytes });
  });
  return outcome.ok ? done(files) : outcome;
}

/** A pack as one zip, made file by file: what a large survey needs. The bytes are those of `zipped` of `packFiles`. */
export async function packed(
  disclosed: Disclosed,
  terms: ShareTerms,
  tools: PackTools,
): Promise<
  Outcome<{ readonly zip: Uint8Array<ArrayBuffer>; readonly files: readonly { name: string; bytes: number }[] }>
> {
  const members: ZipMember[] = [];
  const outcome = eachFile(disclosed, terms, tools, ({ name, pieces }, seen) => {
    members.push(zipMember(name, pieces, seen));
  });
  if (!outcome.ok) return outcome;
  return done({ zip: zipOf(members), files: members.map(({ name, size }) => ({ name, bytes: size })) });
}

/** Files as one zip: the same files give the same bytes. */
export const zipped = (files: readonly PackFile[]): Uint8Array<ArrayBuffer> =>
  zipOf(files.map(({ name, bytes }) => zipMember(name, [bytes])));

/** A day, or a moment of one. */
const ISO = /^\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:\d{2}))?$/;

/** Of a day that the calendar has: 31 February would silently become a day in March. */
function isTime(text: string): boolean {
  const day = ISO.exec(text)?.[0]?.slice(0, 10);
  if (day === undefined || Number.isNaN(Date.parse(text))) return false;
  return new Date(`${day}T00:00Z`).toISOString().startsWith(day);
}

/** What takes a file: it reads every piece and tells of it as it goes by. */
type Taker = (source: PackSource, seen: (piece: Uint8Array) => void) => void;

function eachFile(disclosed: Disclosed, terms: ShareTerms, tools: PackTools, take: Taker): Outcome<null> {
  const { sql, tick = () => undefined, giveBack = () => undefined } = tools;
  if (!isTime(terms.madeAt)) {
    return refuse(
      'bad_time',
      `“${terms.madeAt.slice(0, 40)}” is no date. Say it as 2026-11-25 or 2026-11-25T12:00:00Z.`,
    );
  }
  const layers = shareLayers(disclosed);
  if (!layers.ok) return layers;
  const sums: { name: string; sha256: string }[] = [];
  const add = (name: string, pieces: Iterable<Uint8Array>): void => {
    const digest = sha256.create();
    take({ name, pieces }, (piece) => digest.update(piece));
    sums.push({ name, sha256: bytesToHex(digest.digest()) });
  };
  const addText = (name: string, pieces: Iterable<string>): void => add(name, encoded(pieces));

  // What takes much memory for a moment stands apart: drawing first, the GeoPackage last.
  for (const { name, text } of drawnFiles(disclosed, terms)) addText(name, [text]);
  giveBack();
  const written = layers.value.map((layer, i): WrittenLayer => {
    const whole = measured(layer);
    addText(`layers/${layer.name}.geojson`, geojsonStream(layer.features(), whole.bbox));
    tick(0.1 + (0.3 * (i + 1)) / layers.value.length);
    return whole;
  });
  giveBack();
  if (!isOutside(disclosed.audience)) addForWork(disclosed, terms, layers.value, addText);
  tick(0.6);
  giveBack();
  add('layers.gpkg', [
    geopackage(
      sql,
      layers.value.map(({ name, features }) => ({ name, features: features() })),
      terms.madeAt,
    ),
  ]);
  tick(0.95);
  const names = written.map(({ name }) => name);
  const tables = DICTIONARY_TABLES.filter((table) => sums.some(({ name }) => name === `tables/${table.name}`));
  addText('dictionary.csv', [dictionaryCsv(names, tables)]);
  addText('dictionary.json', [`${JSON.stringify(dictionaryDocument(names, tables), null, 2)}\n`]);
  addText('metadata.json', [metadataText(disclosed, terms, written)]);
  addText('README.txt', [readmeText(disclosed, terms, [...sums.map(({ name }) => name), 'README.txt', 'SHA256SUMS'])]);
  sums.sort((p, q) => (p.name < q.name ? -1 : 1));
  addText('SHA256SUMS', [sums.map(({ name, sha256: sum }) => `${sum}  ${name}\n`).join('')]);
  tick(1);
  return done(null);
}

/** Page and report. The site as they draw it is gone when they are done. */
function drawnFiles(disclosed: Disclosed, terms: ShareTerms): readonly { name: string; text: string }[] {
  const site = pageSite(disclosed);
  return [
    { name: 'page.html', text: plannerPage(disclosed, terms, site) },
    { name: 'report.html', text: report(disclosed, terms, site) },
  ];
}

/** What only those get who go on working with it. */
function addForWork(
  disclosed: Disclosed,
  terms: ShareTerms,
  layers: readonly ShareLayer[],
  addText: (name: string, pieces: Iterable<string>) => void,
): void {
  const title = terms.title ?? disclosed.survey.site.name;
  // Midpoints have the same figures as their segments, which are drawn.
  const drawn = layers.filter(({ name }) => name !== 'midpoints');
  addText(
    'layers.kml',
    kmlPieces(
      title,
      drawn.map(({ name, features }) => ({ name, features: features() })),
      heightsOf(disclosed),
    ),
  );
  addText('stakes.gpx', gpxPieces(title, stakes(layers), terms.madeAt));
  for (const { name, text } of surveyTables(disclosed).files) addText(`tables/${name}`, [text]);
  addText('styles/segments.sld', [segmentsSld()]);
  addText('styles/zones.sld', [zonesSld()]);
  addText('survey.survey.json', surveyPieces(disclosed));
}

function* stakes(layers: readonly ShareLayer[]) {
  for (const { name, features } of layers) if (name === 'electrodes' || name === 'next_readings') yield* features();
}

/** How many features a layer has, and where they lie. */
function measured({ name, features }: ShareLayer): WrittenLayer {
  const bounds = layerBounds();
  let count = 0;
  for (const feature of features()) {
    count += 1;
    bounds.add(feature);
  }
  return { name, features: count, bbox: bounds.bbox() };
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const [only] = pieces;
  if (only && pieces.length === 1) return only;
  const bytes = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}
