import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import { readColumnsMap } from '../../src/exchange/read/columns';
import { readPack } from '../../src/exchange/read/pack';
import { readTables } from '../../src/exchange/read/tables';
import { surveyTables } from '../../src/exchange/write/tables';
import type { Findings } from '../../src/findings';
import { packed } from '../../src/handover/pack';
import type { Survey } from '../../src/survey/survey';
import { sql } from '../handover/sql';
import { chanceFrom } from './chance';
import { randomSurvey } from './ladders';

const TERMS = { madeAt: '2026-11-25', contact: null, licence: null, title: null };
const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A surveyor's pack of a survey, as one zip. */
export async function surveyorPack(survey: Survey): Promise<Uint8Array> {
  const pack = await packed(disclose(survey, appraise(survey), 'surveyor'), TERMS, { sql });
  if (!pack.ok) throw new Error(`a pack was refused: ${pack.sentence}`);
  return pack.value.zip;
}

/** What a survey loses on its way through a pack and back; null where its findings are the same, to the last digit. */
export async function faultOfPack(seed: number): Promise<string | null> {
  const survey = randomSurvey(seed);
  const { survey: back, notes } = readPack(await surveyorPack(survey), 'pack.zip');
  if (!back) return `the pack is refused: ${notes.map(({ sentence }) => sentence).join(' ')}`;
  return JSON.stringify(appraise(back)) === JSON.stringify(appraise(survey)) ? null : 'the pack gives other findings';
}

/** What readings lose on their way through tables and back; null where they are the same. */
export function faultOfTables(seed: number): string | null {
  const survey = randomSurvey(seed);
  const { files } = surveyTables(disclose(survey, {} as Findings, 'surveyor'));
  const { survey: back, notes } = readTables(
    files.map(({ name, text }) => ({ name, bytes: utf8(text) })),
    { seed: 'fuzz' },
  );
  const faults = notes.filter(({ kind }) => kind === 'fault');
  if (!back || faults.length > 0) return `the tables are refused: ${faults[0]?.sentence}`;
  const [there, here] = [back, survey].map((of) => of.readings.map((reading) => toldOf(of, reading)));
  const different = here?.findIndex((told, i) => told !== there?.[i]) ?? -1;
  if (here?.length !== there?.length) return `${here?.length} readings become ${there?.length}`;
  return different < 0 ? null : `${here?.[different]} becomes ${there?.[different]}`;
}

function toldOf({ lines, outings }: Survey, { line, outing, ...said }: Survey['readings'][number]): string {
  const { midpoint_m, spacing_m, value, unit, status, hookup, limit, wetting, meter_spacing_m, n, inner_spacing_m } =
    said;
  const names = [lines.find(({ id }) => id === line)?.name, outings.find(({ id }) => id === outing)?.name];
  const figures = [
    midpoint_m,
    spacing_m,
    value,
    unit,
    status,
    hookup,
    limit,
    wetting,
    meter_spacing_m,
    n,
    inner_spacing_m,
  ];
  return JSON.stringify([...names, ...figures.map((each) => each ?? null)]);
}

const FOOT_M = 0.3048; // international foot, exact (1959 agreement; NIST SP 811 B.8)
const US_SURVEY_FOOT_M = 1200 / 3937; // exact (NIST SP 811 B.6)

/** Whether tables whose plane grid is in feet give other findings than the same in metres; null where they do not. */
export function faultOfFeet(seed: number): string | null {
  const chance = chanceFrom(seed + 3);
  const [length, bearing] = [40 + chance.below(100), chance.below(360)];
  const origin: [number, number] = [-120 + 40 * chance.real(), 30 + 15 * chance.real()];
  const ends = [0, length].map((at) => [1000 + at * 0.6, 2000 + at * 0.8] as const);
  const readings = ['line,midpoint_m,spacing_m,value,unit,hookup'];
  for (let at = 5; at < length - 5; at += 3) {
    for (const spacing of [1, 2, 4]) {
      readings.push(`A,${at},${spacing},${(200 * Math.exp(chance.real())).toFixed(1)},ohm_m,pole_pole`);
    }
  }
  const findingsIn = (unit: string, metres: number): Findings | string => {
    const rows = ends.map(([east, north], i) => `A,${i * length},${east / metres},${north / metres}`);
    const file = { table: 'positions', grid: { name: 'own', unit, origin_lon_lat: origin, bearing_deg: bearing } };
    const { columns } = readColumnsMap(utf8(JSON.stringify({ files: { 'positions.csv': file } })), 'map.json');
    const { survey, notes } = readTables(
      [
        { name: 'positions.csv', bytes: utf8(`line,chainage_m,easting,northing\n${rows.join('\n')}\n`) },
        { name: 'readings.csv', bytes: utf8(`${readings.join('\n')}\n`) },
      ],
      { seed: 'feet', ...(columns ? { columns } : {}) },
    );
    return survey ? appraise(survey, DEFAULT_SETTINGS) : notes.map(({ sentence }) => sentence).join(' ');
  };
  const inMetres = findingsIn('m', 1);
  for (const [unit, metres] of [
    ['ft', FOOT_M],
    ['us_survey_ft', US_SURVEY_FOOT_M],
    ['km', 1000],
  ] as const) {
    const other = findingsIn(unit, metres);
    if (typeof inMetres === 'string' || typeof other === 'string') return `${unit}: ${inMetres} ${other}`;
    const difference = farthest(inMetres.lines, other.lines, 'lines');
    if (difference) return `${unit}: ${difference}`;
  }
  return null;
}

/** The path to the first number that is not the same to eight digits, or to what is there in one alone. */
export function farthest(p: unknown, q: unknown, path: string): string | null {
  if (typeof p === 'number' && typeof q === 'number') {
    return Math.abs(p - q) <= 1e-8 * Math.max(1, Math.abs(p)) ? null : `${path} is ${p} and ${q}`;
  }
  if (typeof p !== 'object' || typeof q !== 'object' || p === null || q === null) {
    return p === q || typeof p === 'string' ? null : `${path} is ${p} and ${q}`;
  }
  for (const key of new Set([...Object.keys(p), ...Object.keys(q)])) {
    const found = farthest(p[key as never], q[key as never], `${path}.${key}`);
    if (found) return found;
  }
  return null;
}
