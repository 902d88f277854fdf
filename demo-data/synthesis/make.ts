import { mkdirSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { contoursAt } from './contours';
import { type DemoReading, FIELD_DAYS, type FieldDay, readingsOf, stationsOf } from './field-days';
import { crossingsOf, LINES, lineNamed, lonLatOf, PASSAGE_AXIS, pegAt } from './lines';
import { surveyForm } from './survey-form';
import * as truth from './truth';

/*
 * Writes the demo's tables, its relief and its truth. The same bytes at every run: every random number has a fixed seed.
 *   npx tsx demo-data/synthesis/make.ts
 */

type Cell = string | number | null;

function csv(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const cell = (value: Cell): string => {
    const text = value === null ? '' : String(value);
    return /[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  };
  return [header, ...rows].map((row) => `${row.map(cell).join(',')}\n`).join('');
}

/** 7 decimals of a degree, about a centimetre. */
const degrees = (value: number): string => value.toFixed(7);

/** Local time, UTC−05:00, some seconds after the start of work at 08:10. */
function timeOf(day: string, atS: number): string {
  const seconds = 8 * 3600 + 10 * 60 + atS;
  const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
  return `${day}T${two(seconds / 3600)}:${two((seconds / 60) % 60)}:${two(seconds % 60)}-05:00`;
}

/** What a 3½-digit meter shows of a figure: 199.9, 1999 and 19990 Ω·m, then 199.9 kΩ·m. */
function shown(ohmM: number): readonly [value: string, unit: string] {
  if (ohmM < 199.95) return [ohmM.toFixed(1), 'ohm_m'];
  if (ohmM < 1999.5) return [ohmM.toFixed(0), 'ohm_m'];
  if (ohmM < 19995) return [String(Math.round(ohmM / 10) * 10), 'ohm_m'];
  return [(ohmM / 1000).toFixed(1), 'kohm_m'];
}

interface Device {
  readonly source: string;
  /** The device's error on that day, the same for all its fixes. */
  readonly biasM: truth.PlanPlace;
  /** Standard deviation per axis on top of it. */
  readonly jitterM: number;
  readonly accuracyM: number;
  readonly accuracyLevel: 68 | 95;
  readonly heights: boolean;
}

const DEVICES = {
  phone12: {
    source: 'phone, 60 s average',
    biasM: { eastM: 1.3, northM: -0.9 },
    jitterM: 0.2,
    accuracyM: 2.1,
    accuracyLevel: 68,
    heights: false,
  },
  station: {
    source: 'total station',
    biasM: { eastM: 0.02, northM: -0.01 },
    jitterM: 0.01,
    accuracyM: 0.05,
    accuracyLevel: 95,
    heights: true,
  },
  handheld: {
    source: 'handheld',
    biasM: { eastM: -1.6, northM: 1.5 },
    jitterM: 0.2,
    accuracyM: 4.5,
    accuracyLevel: 95,
    heights: false,
  },
  phone14: {
    source: 'phone, 60 s average',
    biasM: { eastM: -0.6, northM: -1.1 },
    jitterM: 0.2,
    accuracyM: 1.8,
    accuracyLevel: 68,
    heights: false,
  },
  pole: {
    source: 'antenna on a pole, 5 minutes',
    biasM: { eastM: 0.4, northM: 0.3 },
    jitterM: 0.08,
    accuracyM: 1,
    accuracyLevel: 95,
    heights: false,
  },
} as const satisfies Record<string, Device>;

interface FixRound {
  readonly line: string;
  readonly device: keyof typeof DEVICES;
  readonly day: string;
  /** Seconds after the start of that day's work. */
  readonly atS: number;
}

const FIX_ROUNDS: readonly FixRound[] = [
  { line: 'A', device: 'phone12', day: '2026-05-12', atS: -2400 },
  { line: 'B', device: 'phone12', day: '2026-05-12', atS: -1900 },
  { line: 'C', device: 'station', day: '2026-05-13', atS: -2700 },
  { line: 'D', device: 'handheld', day: '2026-05-13', atS: -1200 },
  { line: 'E', device: 'pole', day: '2026-05-14', atS: -2600 },
  { line: 'T', device: 'phone14', day: '2026-05-14', atS: -1300 },
  { line: 'R1', device: 'phone12', day: '2026-05-12', atS: -1100 },
  { line: 'R2', device: 'handheld', day: '2026-05-13', atS: -600 },
  { line: 'R3', device: 'handheld', day: '2026-05-13', atS: -300 },
];
const FIX_SEED = 37;
const FIX_S = 100;

/** Ends and bends of every line as they were fixed. */
function positionsCsv(): string {
  const normal = truth.normalFrom(FIX_SEED);
  const rows = FIX_ROUNDS.flatMap((round) => {
    const line = lineNamed(round.line);
    const device: Device = DEVICES[round.device];
    return [0, ...line.legs.map((leg) => leg.toM)].map((chainageM, i) => {
      const [eastM, northM, heightM] = pegAt(line, chainageM);
      const { lon, lat } = lonLatOf({
        eastM: eastM + device.biasM.eastM + device.jitterM * normal(),
        northM: northM + device.biasM.northM + device.jitterM * normal(),
      });
      return [
        line.name,
        chainageM,
        degrees(lon),
        degrees(lat),
        device.heights ? heightM.toFixed(2) : null,
        device.accuracyM,
        device.accuracyLevel,
        device.source,
        timeOf(round.day, round.atS + i * FIX_S),
      ];
    });
  });
  return csv(
    ['line', 'chainage_m', 'lon', 'lat', 'elevation_m', 'accuracy_m', 'accuracy_level', 'source', 'time'],
    rows,
  );
}

function readingRow(reading: DemoReading): readonly Cell[] {
  const [value, unit] = reading.shownOhmM === null ? [null, 'ohm_m'] : shown(reading.shownOhmM);
  return [
    reading.line.name,
    reading.midpointM,
    reading.spacingM,
    value,
    unit,
    reading.line.hookup,
    reading.meterSpacingM,
    reading.shownOhmM === null ? 'over_range' : 'ok',
    reading.limitOhmM,
    reading.wetting,
    reading.seatings?.[0] ?? null,
    reading.seatings?.[1] ?? null,
    reading.outing,
    timeOf(reading.outing, reading.atS),
    reading.note,
    reading.reference ? 'yes' : 'no',
  ];
}

const READING_HEADER = [
  'line',
  'midpoint_m',
  'spacing_m',
  'value',
  'unit',
  'hookup',
  'meter_spacing_m',
  'status',
  'limit',
  'wetting',
  'seating_1',
  'seating_2',
  'outing',
  'time',
  'note',
  'reference',
];

/** Remote electrodes as fixed by phone: true places with an error of a metre or two. */
function remotesCsv(days: readonly FieldDay[]): string {
  const normal = truth.normalFrom(FIX_SEED + 1);
  const rows = days.flatMap(({ outing, remotes }) =>
    (['b', 'n'] as const).flatMap((role) => {
      if (!remotes) return [];
      const { eastM, northM } = remotes[role];
      const { lon, lat } = lonLatOf({ eastM: eastM + 1.5 * normal(), northM: northM + 1.5 * normal() });
      return [[outing, role.toUpperCase(), degrees(lon), degrees(lat)]];
    }),
  );
  return csv(['outing', 'role', 'lon', 'lat'], rows);
}

const RELIEF = { westM: -150, southM: -125, eastM: 150, northM: 125 } as const;
const RELIEF_STEP_M = 2.5;

/** Contours of the ground at every metre of height, RFC 7946, one line a feature. */
function reliefGeojson(): string {
  const height = (eastM: number, northM: number): number => truth.groundHeightM({ eastM, northM });
  const features: string[] = [];
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let levelM = 215; levelM <= 260; levelM += 1) {
    for (const [i, chain] of contoursAt(height, levelM, RELIEF, RELIEF_STEP_M).entries()) {
      const coordinates = chain.map(([eastM, northM]) => {
        const { lon, lat } = lonLatOf({ eastM, northM });
        [west, south, east, north] = [
          Math.min(west, lon),
          Math.min(south, lat),
          Math.max(east, lon),
          Math.max(north, lat),
        ];
        return `[${degrees(lon)},${degrees(lat)}]`;
      });
      const id = `contour-${levelM}-${i + 1}`;
      features.push(
        `{"type":"Feature","id":"${id}","properties":{"sid":"${id}","elevation_m":${levelM}},` +
          `"geometry":{"type":"LineString","coordinates":[${coordinates.join(',')}]}}`,
      );
    }
  }
  const bbox = [west, south, east, north].map(degrees).join(',');
  return `{"type":"FeatureCollection","bbox":[${bbox}],"features":[\n${features.join(',\n')}\n]}\n`;
}

const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** The truth for tests and for whoever doubts: crossings, axis, layers, faults. */
function truthJson(readings: readonly DemoReading[]): string {
  const stated = {
    site: truth.SITE_NAME,
    invented: true,
    origin: truth.ORIGIN,
    soil_ohm_m: truth.SOIL_OHM_M,
    soil_thickness_median_m: truth.SOIL_THICKNESS_M,
    soil_thickness_ln_deviation: truth.SOIL_RELIEF,
    limestone_ohm_m: truth.LIMESTONE_OHM_M,
    passage: {
      fill: 'air',
      radius_m: truth.PASSAGE_RADIUS_M,
      axis: truth.PASSAGE_NODES.map((node) => {
        const { lon, lat } = lonLatOf(node);
        return { lon: rounded(lon, 7), lat: rounded(lat, 7), depth_axis_m: node.depthM };
      }),
    },
    crossings: LINES.flatMap(crossingsOf).map((crossing) => {
      const { lon, lat } = lonLatOf(crossing.place);
      return {
        line: crossing.line,
        chainage_m: rounded(crossing.chainageM, 2),
        depth_axis_m: rounded(crossing.depthAxisM, 2),
        radius_m: truth.PASSAGE_RADIUS_M,
        angle_deg: rounded(crossing.angleDeg, 1),
        lon: rounded(lon, 7),
        lat: rounded(lat, 7),
      };
    }),
    lines: LINES.map((line) => ({
      line: line.name,
      hookup: line.hookup,
      length_m: line.lengthM,
      reference: line.stations !== null,
      passage: crossingsOf(line).length > 0,
      stations_at_12_m: stationsOf(line, 12).length,
      distance_to_passage_m: rounded(distanceToPassageM(line.name), 1),
    })),
    faults: readings.flatMap((reading) =>
      reading.faults.map((kind) => ({
        kind,
        line: reading.line.name,
        midpoint_m: reading.midpointM,
        spacing_m: reading.spacingM,
      })),
    ),
  };
  return `${JSON.stringify(stated, null, 2)}\n`;
}

/** Least distance in plan from the pegs of a line to the axis of the passage, m. */
function distanceToPassageM(name: string): number {
  const line = lineNamed(name);
  let least = Infinity;
  for (let chainageM = 0; chainageM <= line.lengthM; chainageM += 0.5) {
    const [eastM, northM] = pegAt(line, chainageM);
    for (const point of PASSAGE_AXIS) least = Math.min(least, Math.hypot(point.eastM - eastM, point.northM - northM));
  }
  return least;
}

/** Every file of the demo that comes out of the truth, by name. */
export function demoFiles(): Readonly<Record<string, string>> {
  const readings = FIELD_DAYS.flatMap(readingsOf);
  const tables = {
    'positions.csv': positionsCsv(),
    'readings.csv': csv(READING_HEADER, readings.map(readingRow)),
    'remotes.csv': remotesCsv(FIELD_DAYS),
  };
  return {
    ...tables,
    'survey-form/brackamore-slade.survey.json': surveyForm(tables, truth.SITE_NAME),
    'relief.geojson': reliefGeojson(),
    'truth.json': truthJson(readings),
  };
}

function write(): void {
  const folder = resolve(fileURLToPath(import.meta.url), '../..');
  mkdirSync(resolve(folder, 'survey-form'), { recursive: true });
  for (const [name, text] of Object.entries(demoFiles())) writeFileSync(resolve(folder, name), text);
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) write();
