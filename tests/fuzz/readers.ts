import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { readColumnsMap } from '../../src/exchange/read/columns';
import { readInventoryColumns } from '../../src/exchange/read/karst-columns';
import { readInventoryFile } from '../../src/exchange/read/karst-features';
import { readSurveyFile } from '../../src/exchange/read/survey-file';
import { readTables } from '../../src/exchange/read/tables';
import { featureLayers } from '../../src/exchange/write/feature-layers';
import { geojsonText } from '../../src/exchange/write/geojson';
import { buildLayers } from '../../src/exchange/write/layers';
import { surveyText } from '../../src/exchange/write/survey-text';
import { readSetbackRules } from '../../src/karst/setback-rules';
import type { Survey } from '../../src/survey/survey';
import { chanceFrom } from './chance';
import { mutated } from './mutate';

const ROOT = resolve(import.meta.dirname, '../..');
/** Public files of others, which a checkout may have beside it. */
const REAL = resolve(ROOT, '../shared/real-data');
/** A mutated file that keeps the processor longer than this has found something; waiting for it on a busy machine has not. */
const SLOWEST_MS = 4000;
const processorMs = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
const LARGEST_BYTES = 400_000;

export interface GoodFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const SMALL: GoodFile[] = [
  {
    name: 'positions.csv',
    bytes: utf8('line,chainage_m,lon,lat,elevation_m,accuracy_m\nL1,0,-91.6,17.1,800,2\nL1,100,-91.6,17.1009,805,2\n'),
  },
  {
    name: 'readings.csv',
    bytes: utf8(
      'line,midpoint_m,spacing_m,value,unit,hookup,meter_spacing_m,status,limit,wetting,seating_1,seating_2,outing,time,note,reference\nL1,10,2,345.6,ohm_m,pole_pole,,,,water,a,b,day 1,2026-03-01T10:00,dry,\nL1,12,4,,ohm_m,pole_pole,,over_range,2000,none,,,day 1,,,yes\n',
    ),
  },
  {
    name: 'legs.csv',
    bytes: utf8('line,from_chainage_m,bearing_deg,bearing_ref,distance_m,slope_deg\nL1,0,10,true,20,3\n'),
  },
  { name: 'remotes.csv', bytes: utf8('outing,role,lon,lat\nday 1,B,-91.61,17.11\n') },
  { name: 'features.csv', bytes: utf8('id,type,lon,lat,name,status\nK1,doline,-91.6,17.1,Big one,field_checked\n') },
  {
    name: 'map.json',
    bytes: utf8(
      '{"files":{"readings.csv":{"table":"readings","decimal":",","columns":{"a":"spacing_m"},"constants":{"unit":"ohm_m"}}}}',
    ),
  },
  {
    name: 'inventory-map.json',
    bytes: utf8(
      '{"files":{"caves.csv":{"columns":{"What":"type","X":"lon"},"values":{"type":{"pit":"shaft"}},"crs":"EPSG:4326"}}}',
    ),
  },
  {
    name: 'rules.json',
    bytes: utf8('[{"type":"sinkhole","distance_m":30,"from":"rim","with_uncertainty":true,"cites":"our code 7"}]'),
  },
];

/** Good files to begin with: small ones of every kind, the demo's, and the public files where they are. */
export function goodFiles(): readonly GoodFile[] {
  const demo = filesUnder(join(ROOT, 'demo-data')).filter((path) => /\.(csv|json|geojson)$/.test(path));
  const real = existsSync(REAL) ? filesUnder(REAL) : [];
  const found = [...demo, ...real]
    .filter((path) => statSync(path).size > 0 && statSync(path).size < LARGEST_BYTES)
    .map((path): GoodFile => ({ name: basename(path), bytes: new Uint8Array(readFileSync(path)) }));
  const { survey } = readTables(SMALL.slice(0, 5), { seed: 'fuzz' });
  if (!survey) throw new Error('the small tables are no survey any more');
  const small = { name: 'small.survey.json', bytes: utf8(surveyText(disclose(survey, appraise(survey), 'surveyor'))) };
  // The small ones often: each of their bytes matters.
  const often = Array.from({ length: Math.ceil(found.length / 12) }, () => [
    ...SMALL,
    ...Array.from({ length: SMALL.length }, () => small),
  ]).flat();
  return [...often, ...found];
}

function filesUnder(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesUnder(path);
    return entry.isFile() ? [path] : [];
  });
}

export interface Tally {
  tried: number;
  /** How many came out as something, and how many were refused with a sentence. */
  readonly read: Record<string, number>;
  readonly refused: Record<string, number>;
  readonly findings: string[];
}

/** Every reader on one file that was made wrong; what throws, hangs or says nothing is a finding. */
export function tryReaders(seed: number, good: readonly GoodFile[], tally: Tally): void {
  const chance = chanceFrom(seed);
  const { name, bytes } = chance.of(good);
  const wrong = mutated(bytes, chance);
  tally.tried += 1;
  attempt('survey', () => {
    const { survey, notes } = readSurveyFile(wrong, name);
    if (survey) throughTheHouse(survey);
    return survey !== null || said(notes.map(({ sentence }) => sentence));
  });
  attempt('tables', () => {
    const { survey, notes } = readTables([...SMALL.slice(0, 1), { name, bytes: wrong }], { seed: 'fuzz' });
    if (survey) throughTheHouse(survey);
    return survey !== null || said(notes.filter(({ kind }) => kind === 'fault').map(({ sentence }) => sentence));
  });
  attempt('inventory', () => {
    const read = readInventoryFile(name, wrong);
    return read.ok || said([read.sentence]);
  });
  if (/json$/i.test(name)) {
    attempt('columns', () => {
      const { columns, notes } = readColumnsMap(wrong, name);
      return columns !== null || said(notes.map(({ sentence }) => sentence));
    });
    attempt('inventory columns and rules', () => {
      const json = jsonOrNull(wrong);
      const [columns, rules] = [readInventoryColumns(json), readSetbackRules(json)];
      if (columns.ok || rules.ok) return true;
      return said([columns.sentence]) && said([rules.sentence]);
    });
  }

  function attempt(reader: string, read: () => boolean | 'refused'): void {
    const from = processorMs();
    try {
      const outcome = read();
      const list = outcome === 'refused' ? tally.refused : tally.read;
      list[reader] = (list[reader] ?? 0) + 1;
    } catch (error) {
      const why =
        error instanceof Error
          ? `${error.message.slice(0, 160)} ${error.stack?.split('\n')[1]?.trim() ?? ''}`
          : String(error);
      tally.findings.push(`seed ${seed}, ${name}, ${reader}: ${why}`);
    }
    const tookMs = processorMs() - from;
    if (tookMs > SLOWEST_MS) tally.findings.push(`seed ${seed}, ${name}, ${reader}: ${Math.round(tookMs)} ms`);
  }
}

/** A refusal has to say something. */
export function said(sentences: readonly string[]): 'refused' {
  if (!sentences.some((sentence) => sentence.trim().length > 10)) throw new Error('refused without a sentence');
  return 'refused';
}

function jsonOrNull(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return null;
  }
}

/** What was read has to come through appraisal and out as strict JSON, without a number that is none. */
export function throughTheHouse(survey: Survey): void {
  if (survey.readings.length > 3000) return;
  const disclosed = disclose(survey, appraise(survey), 'surveyor');
  const layers = { ...buildLayers(disclosed, { drape: 'midpoint' }), ...featureLayers(disclosed) };
  for (const layer of Object.values(layers)) {
    const text = geojsonText(layer);
    JSON.parse(text);
    if (/[:[,](?:NaN|-?Infinity)/.test(text)) throw new Error('a number that is none');
  }
  JSON.parse(surveyText(disclosed));
}
