import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { unzipSync } from 'fflate';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { author } from '../../src/app/author';
import { averagedPlace } from '../../src/app/state/gps-average';
import { appraise } from '../../src/appraise';
import { readSurvey } from '../../src/cli/read-survey';
import { settingsFor } from '../../src/cli/settings-for';
import { disclose } from '../../src/discretion/disclose';
import { discloseTo } from '../../src/discretion/disclose-to';
import { buildLayers } from '../../src/exchange/write/layers';
import { packed } from '../../src/handover/pack';
import { naturalKey } from '../../src/survey/merge-keys';
import { pointOfTime, saysZone } from '../../src/survey/point-of-time';
import type { Reading, Survey } from '../../src/survey/survey';
import { wallDay, wallTime, wallWords } from '../../src/wall-clock';
import { sql } from '../handover/sql';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../helpers/made-survey';
import { folderWith, runProgram } from '../helpers/run-cli';

/** Zones with the offsets that the IANA time zone database has for them in 2026 (from memory): east of UTC, in minutes. */
const ZONES = {
  'Pacific/Apia': { may: 780, december: 780 },
  'Pacific/Kiritimati': { may: 840, december: 840 },
  'Asia/Kathmandu': { may: 345, december: 345 },
  'America/St_Johns': { may: -150, december: -210 },
  'Europe/Berlin': { may: 120, december: 60 },
} as const;

const before = { TZ: process.env.TZ, LC_ALL: process.env.LC_ALL };

function set(name: 'TZ' | 'LC_ALL', value: string | undefined): void {
  if (value === undefined) delete process.env[name];
  else process.env[name] = value;
}

afterEach(() => {
  vi.useRealTimers();
  set('TZ', before.TZ);
  set('LC_ALL', before.LC_ALL);
});

describe('what is entered at 23:30 UTC on 11 May', () => {
  it.each([
    ['Pacific/Apia', '2026-05-12T12:30:00.000+13:00'],
    ['Pacific/Kiritimati', '2026-05-12T13:30:00.000+14:00'],
    ['Asia/Kathmandu', '2026-05-12T05:15:00.000+05:45'],
    ['America/St_Johns', '2026-05-11T21:00:00.000-02:30'],
    ['UTC', '2026-05-11T23:30:00.000Z'],
  ])('has the day and the hour of the wall in %s', (zone, time) => {
    set('TZ', zone);
    vi.useFakeTimers({ now: Date.UTC(2026, 4, 11, 23, 30), toFake: ['Date'] });
    expect(author().at).toBe(time);
    expect(wallDay(new Date())).toBe(time.slice(0, 10));
    expect(wallWords(new Date())).toBe(time.slice(0, 16).replace('T', ' '));
    const fix = { lon: 10, lat: 47, accuracyM: 4, altitudeM: null, timeMs: Date.now() };
    expect(averagedPlace([fix])?.position.time).toBe(time);
  });
});

describe('the hours at which the clocks are changed (Berlin, 29 March and 25 October 2026)', () => {
  it.each([
    ['2026-03-29T00:59:59Z', '2026-03-29T01:59:59.000+01:00'],
    ['2026-03-29T01:00:00Z', '2026-03-29T03:00:00.000+02:00'],
    ['2026-10-25T00:30:00Z', '2026-10-25T02:30:00.000+02:00'],
    ['2026-10-25T01:30:00Z', '2026-10-25T02:30:00.000+01:00'],
  ])('%s is %s there', (utc, wall) => {
    set('TZ', 'Europe/Berlin');
    expect(wallTime(new Date(utc))).toBe(wall);
  });
});

describe('a time as text', () => {
  it('says the point of time that it was made from, in every zone', () => {
    for (const [zone, { may, december }] of Object.entries(ZONES)) {
      set('TZ', zone);
      expect(-new Date(Date.UTC(2026, 4, 12)).getTimezoneOffset()).toBe(may);
      expect(-new Date(Date.UTC(2026, 11, 12)).getTimezoneOffset()).toBe(december);
      const moments = fc.integer({ min: Date.UTC(2000, 0, 1), max: Date.UTC(2060, 0, 1) });
      fc.assert(fc.property(moments, (ms) => pointOfTime(wallTime(new Date(ms))) === ms));
    }
  });

  it('is the same point of time on every machine', () => {
    const noon = Date.UTC(2026, 2, 12, 12);
    for (const zone of [...Object.keys(ZONES), 'UTC']) {
      set('TZ', zone);
      expect(pointOfTime('2026-03-12T12:00')).toBe(noon);
      expect(pointOfTime('2026-03-12T12:00Z')).toBe(noon);
      expect(pointOfTime('2026-03-12T17:45:00+0545')).toBe(noon);
      expect(pointOfTime('2026-03-12T08:30:00.0-03:30')).toBe(noon);
      expect(pointOfTime('2026-03-11T24:00')).toBe(noon - 12 * 3_600_000);
      expect(pointOfTime('2026-03-12')).toBe(noon - 12 * 3_600_000);
    }
    for (const text of ['', 'noon', '12.03.2026', '2026', 'March 12, 2026', '2026-13-01', '2026-03-12T25:00']) {
      expect(pointOfTime(text)).toBeNull();
    }
    expect(['2026-03-12T12:00', '2026-03-12', '2026-03-12T12:00Z', '2026-03-12T12:00+01:00'].map(saysZone)).toEqual([
      false,
      false,
      true,
      true,
    ]);
  });
});

const line = madeLine('A', [
  { chainageM: 0, lon: 10, lat: 47 },
  { chainageM: 40, lon: 10.0005, lat: 47 },
]);
const outing = madeOuting('2026-10-25', { date: '2026-10-25' });
const reading = (said: Partial<Reading>): Reading =>
  madeReading(line, { value: 300, midpoint_m: 10, spacing_m: 2, hookup: 'pole_pole', outing: outing.id, ...said });
const surveyOf = (readings: readonly Reading[]): Survey => ({
  ...emptySurvey('zones'),
  lines: [line],
  outings: [outing],
  readings: [...readings],
  references: [madeReference([{ line, chainageM: 10 }])],
});

describe('readings of one place in the hour that comes twice', () => {
  const [summer, winter] = ['2026-10-25T02:40:00+02:00', '2026-10-25T02:10:00+01:00'];

  it('are known apart, and the first of them is the earlier one', () => {
    const findings = appraise(surveyOf([reading({ time: winter }), reading({ time: summer })]));
    expect(findings.lines[0]?.midpoints[0]?.measuredAt).toBe(summer);
    const keys = ['2026-10-25T02:30:00+02:00', '2026-10-25T02:30:00+01:00', '2026-10-25T02:30:00'].map((time) =>
      naturalKey('readings', { ...reading({ time }), midpoint_m: 10 }),
    );
    expect(new Set(keys).size).toBe(3);
  });
});

describe('the day in a copy for a planner', () => {
  it('is that of the site, where it is another than that of UTC', () => {
    const survey = surveyOf([reading({ time: '2026-10-25T09:30:00+13:00' })]);
    const outcome = discloseTo(survey, appraise(survey), 'planner', { settled: [], earlier: [] });
    if (!outcome.ok || outcome.value.kind !== 'disclosed') throw new Error('there is nothing to hide');
    const layers = JSON.stringify(buildLayers(outcome.value.disclosed, { drape: 'midpoint' }));
    expect(layers).toContain('"measured_at":"2026-10-25"');
    expect(layers).not.toContain('2026-10-24');
  });
});

describe('a pack', () => {
  // Names that Swedish, German and Turkish sort and fold each in its own way; clock times round a change of the clocks.
  const MADE = { madeAt: '2026-11-25' };
  const NAMES = ['Å', 'Z', 'Ä2', 'Ä10', 'I', 'ı'];
  const positions = NAMES.flatMap((name, i) => [
    `${name},0,10.${1000 + 2 * i},47.1`,
    `${name},40,10.${1004 + i},47.1${i % 2}0${i}`,
  ]);
  const times = ['2026-03-29T01:30', '2026-03-29T01:50', '2026-03-29T03:10', '2026-03-29T03:40'];
  const readings = NAMES.flatMap((name) =>
    times.flatMap((time, visit) =>
      [10, 14, 18, 22].map((at) => `${name},${at},2,${300 * (1 + visit)},ohm_m,pole_pole,${time},29.03.2026`),
    ),
  );
  const folder = folderWith({
    'positions.csv': `line,chainage_m,lon,lat\n${positions.join('\n')}\n`,
    'readings.csv': `line,midpoint_m,spacing_m,value,unit,hookup,time,outing\n${readings.join('\n')}\n`,
  });
  const digest = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
  const packHere = async (): Promise<Uint8Array> => {
    const { survey } = readSurvey(folder, undefined);
    const disclosed = disclose(survey, appraise(survey, settingsFor(survey)), 'surveyor');
    const pack = await packed(disclosed, { ...MADE, contact: null, licence: null, title: null }, { sql });
    if (!pack.ok) throw new Error(pack.sentence);
    return pack.value.zip;
  };
  /** Node takes its language from where it is started. */
  const packOfProcess = (zone: string, locale: string): Uint8Array => {
    set('TZ', zone);
    set('LC_ALL', locale);
    const out = join(folderWith({}), 'pack.zip');
    const ran = runProgram('share', folder, '--audience', 'surveyor', '--made-at', MADE.madeAt, '--out', out);
    if (ran.code !== 0) throw new Error(ran.stderr);
    return readFileSync(out);
  };

  it('has the same bytes in every zone, and in a language that sorts and folds otherwise', async () => {
    set('TZ', 'UTC');
    const inUtc = await packHere();
    const texts = Object.values(unzipSync(inUtc)).map((bytes) => new TextDecoder().decode(bytes));
    expect(texts.some((text) => text.includes('in 2.2 h, all places together'))).toBe(true);
    for (const zone of Object.keys(ZONES)) {
      set('TZ', zone);
      expect(digest(await packHere())).toBe(digest(inUtc));
    }
    expect(digest(packOfProcess('Pacific/Apia', 'sv_SE.UTF-8'))).toBe(digest(inUtc));
    expect(digest(packOfProcess('America/St_Johns', 'tr_TR.UTF-8'))).toBe(digest(inUtc));
  });
});

describe('the source', () => {
  const root = join(import.meta.dirname, '../../src');
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((name) => /\.tsx?$/.test(name));
  const withFault = (fault: RegExp, but: readonly string[] = []): readonly string[] =>
    files.filter((name) => !but.includes(name) && fault.test(readFileSync(join(root, name), 'utf8')));

  it('sorts, folds and writes nothing by the language of the machine', () => {
    expect(withFault(/\.localeCompare\([^()]*(?:\([^()]*\)[^()]*)*\)(?<!'en'[^)]*\))/)).toEqual([]);
    expect(
      withFault(/\.toLocale(?:String|DateString|TimeString)\((?!'en-US')|\.toLocale(?:Lower|Upper)Case\(/),
    ).toEqual([]);
    expect(withFault(/\bIntl\.\w+\((?!'en')/)).toEqual([]);
  });

  it('asks for the zone of the machine in one place', () => {
    expect(withFault(/getTimezoneOffset|\.get(?:FullYear|Month|Date|Hours|Minutes)\(/, ['wall-clock.ts'])).toEqual([]);
  });

  it('reads no decimal comma without asking whether it parts thousands', () => {
    expect(withFault(/Number\([^\n]*\.replace\(',', '\.'\)/).filter((name) => name.startsWith('app/'))).toEqual([]);
  });
});
