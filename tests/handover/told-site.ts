import { localPlane } from '../../src/position/crs';
import { makeId } from '../../src/survey/ids';
import type { Line, Survey } from '../../src/survey/survey';
import { feature, SECRET } from '../discretion/made-share';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../helpers/made-survey';

/*
 * A survey that tells of a protected entrance wherever a record can tell: for packs that must not. Made up.
 */

export const TRUTH = { lon: 10.1234567, lat: 47.7654321 } as const;
/** Its number in a list of caves. */
export const NUMBER = 'Kataster Q881/25';
export const RADIUS_M = 40;
export const GRID_M = 1000;
/** Words that stand nowhere but where they tell of the entrance, or of people, or of a time of day. */
export const PEOPLE = ['Annika Exemplar', 'Bertrand Beispiel'] as const;
export const CLOCK = '13:37';

const plane = localPlane(TRUTH.lon, TRUTH.lat);
const at = (x: number, y: number) => plane.toLonLat(x, y);
const xy = ({ lon, lat }: { lon: number; lat: number }) => ({ x: lon, y: lat, crs: 'EPSG:4326' });
const SEEN = { at: `2026-03-01T${CLOCK}:00Z`, by: PEOPLE[0], count: 2 };
const KNOWN = { source: 'hand receiver', device: `${PEOPLE[1]}'s receiver`, time: `2026-05-02T${CLOCK}:09Z` };

function lineAt(name: string, fromX: number, fromY: number, toX: number, toY: number): Line {
  const line = madeLine(name, [
    { chainageM: 0, ...at(fromX, fromY), accuracyM: 1 },
    { chainageM: 60, ...at(toX, toY), accuracyM: 1 },
  ]);
  return {
    ...line,
    revised: SEEN,
    path: line.path.map((item) => (item.kind === 'fix' ? { ...item, position: { ...item.position, ...KNOWN } } : item)),
  };
}

/** Where a secret stands in a text, spelled in many ways. */
export const SPELLINGS = [
  `10 m from ${SECRET}`,
  'near the Blue-Whistle',
  'bluewistle, 2 pm',
  `see ${NUMBER}`,
  `${TRUTH.lat.toFixed(5)}, ${TRUTH.lon.toFixed(5)}`,
  `${TRUTH.lon.toFixed(4).replace('.', ',')} / ${TRUTH.lat.toFixed(4).replace('.', ',')}`,
  `N${TRUTH.lat.toFixed(5)} E${TRUTH.lon.toFixed(5)}`,
  `47° 45' 55.6" N 10° 07' 24.4" E`,
  `47°45.926'N 10°07.407'E`,
  `47 45 55.6 N, 10 07 24.4 E`,
] as const;

export function toldSite(): Survey {
  // One runs over it, one stays away under its name, others are plain.
  const over = lineAt('Over', -30, 4, 30, -4);
  const named = lineAt(`${SECRET} west`, -320, 250, -280, 295);
  const plain = lineAt('P1', -300, -200, -250, -235);
  const second = lineAt('P2', -200, -300, -150, -335);
  const taped: Line = {
    ...lineAt('P3', 0, 0, 1, 1),
    path: [
      {
        id: makeId('path', 'told', 'taped'),
        kind: 'two_tapes',
        chainage_m: 0,
        first: { ...xy(at(0, 0)), accuracy_m: 1 },
        first_distance_m: 300,
        second: { ...xy(at(-400, 0)), accuracy_m: 1 },
        second_distance_m: 280,
        side: 'left',
      },
    ],
  };
  const beside: Line = {
    ...lineAt('P4', 0, 0, 1, 1),
    path: [0, 60].map((chainage) => ({
      id: makeId('path', 'told', `beside ${chainage}`),
      kind: 'offset' as const,
      chainage_m: chainage,
      base_line: over.id,
      base_chainage_m: chainage,
      offset_right_m: 300,
    })),
  };
  const lines = [over, plain, named, second, taped, beside];
  const outing = madeOuting(`${PEOPLE[0]} at ${SECRET}`, {
    revised: SEEN,
    date: '2026-05-02',
    people: [...PEOPLE],
    meter: { serial: `owned by ${PEOPLE[1]}`, formula: 'hookup' },
    rods: [{ name: PEOPLE[1], length_m: 0.3, radius_m: 0.005 }],
    weather: `fog out of ${SECRET}`,
    recent_rain: `into ${SECRET}`,
    remotes: [
      { role: 'B', position: { ...xy(at(15, 5)), ...KNOWN } },
      { role: 'N', position: { ...xy(at(-900, 900)), ...KNOWN } },
    ],
  });
  const readings = [over, plain, named, second].flatMap((line, l) =>
    Array.from({ length: 14 }, (_, i) => 4 + 4 * i).flatMap((midpoint, i) =>
      [2, 4].map((spacing, s) =>
        madeReading(line, {
          revised: SEEN,
          outing: outing.id,
          midpoint_m: midpoint,
          spacing_m: spacing,
          // Two things that stand out on every line.
          value: 100 * ([3, 4, 10, 11].includes(i) ? 2.6 + s : 1) * (1 + 0.01 * ((i * 7 + l * 3 + s) % 5)),
          hookup: 'wenner_alpha',
          note: SPELLINGS[(i + l) % SPELLINGS.length] as string,
          status_reason: `as at ${SECRET}`,
          seatings: [`rod of ${PEOPLE[1]}`, SECRET, null, null],
          time: `2026-05-02T${CLOCK}:00+02:00`,
        }),
      ),
    ),
  );
  const base = emptySurvey('told site');
  const cave = feature('told/cave', TRUTH.lon, TRUTH.lat, {
    revised: SEEN,
    type: 'cave_entrance',
    name: SECRET,
    external_id: NUMBER,
    confidentiality: 'bats',
    depth_m: 17.23,
    note: `ask ${PEOPLE[1]}`,
    owner_consent: { given: 'no', by: PEOPLE[1], date: '2025-11-11', note: 'no visitors' },
    origins: [{ from: 'the list', external_id: NUMBER }],
    observed_at: `2026-02-02T${CLOCK}`,
  });
  const twin = feature('told/twin', at(2, 2).lon, at(2, 2).lat, {
    ...{ type: 'cave_entrance', name: 'Blue Whistle', retired: true, merged_into: cave.id },
    confidentiality: 'bats',
  });
  const gone = feature('told/gone', at(3, -2).lon, at(3, -2).lat, { retired: true, merged_into: cave.id });
  const far = feature('told/far', at(300, 300).lon, at(300, 300).lat, {
    revised: SEEN,
    name: 'Far sink',
    note: SPELLINGS[6],
    source: 'walked',
    links: [
      { kind: 'feature', target: cave.id },
      { kind: 'document', target: `${SECRET}.pdf` },
    ],
    origins: [{ from: 'the list', id: cave.id, external_id: NUMBER }],
    owner_consent: { given: 'yes', by: PEOPLE[1], note: `but not ${SECRET}` },
  });
  const plot = (key: string, x: number, y: number, size: number) =>
    feature(key, 0, 0, {
      shape: 'area',
      positions: [
        ...[
          [0, 0],
          [size, 0],
          [size, size],
          [0, size],
        ].map(([dx = 0, dy = 0]) => xy(at(x + dx, y + dy))),
        ...[
          [1, 1],
          [2, 1],
          [2, 2],
        ].map(([dx = 0, dy = 0]) => xy(at(x + dx, y + dy))),
      ],
      parts: [{ from: 0 }, { from: 4, hole: true }],
    });
  const unknown = { entrance_at: [TRUTH.lon, TRUTH.lat], entrance_is: { called: SECRET } };
  const survey: Survey = {
    ...base,
    site: {
      ...base.site,
      revised: SEEN,
      name: 'Told site',
      notes: SPELLINGS.join('; '),
      time_zone: 'Europe/Vienna',
      settings: { ...unknown, z_threshold: 2 } as Survey['site']['settings'],
      reviewer: 'R. Viewer, licence 12',
      setback_rules: [
        { type: 'any', distance_m: 30, from: 'point', with_uncertainty: false, cites: `rule of ${SECRET}`, ...unknown },
      ],
      column_mappings: [{ name: SECRET, columns: { x: String(TRUTH.lon) } }],
      local_grids: [{ name: 'house', unit: 'm', origin_lon: TRUTH.lon, origin_lat: TRUTH.lat, bearing_deg: 12 }],
      discretion_classes: [
        {
          name: 'bats',
          keeper: { show: 'generalised', grid_m: GRID_M },
          planner: { show: 'generalised', grid_m: GRID_M },
          public: { show: 'withheld' },
          protect_radius_m: RADIUS_M,
          cites: 'invented for a test',
        },
      ],
    },
    outings: [outing],
    lines,
    readings,
    references: [
      madeReference(
        [plain, second, named].flatMap((line) => [28, 32, 36, 52, 56].map((chainageM) => ({ line, chainageM }))),
        { revised: SEEN, name: `quiet, off ${SECRET}`, serves: lines.map(({ id }) => id) },
      ),
    ],
    surroundings: [
      ['opening', SECRET, 0, 0],
      ['fence', `fence of ${SECRET}`, 250, -250],
      ['pipe', null, 320, -210],
    ].map(([kind, name, x, y]) => ({
      id: makeId('surrounding', 'told', String(kind)),
      revised: SEEN,
      kind: kind as 'opening',
      name: name as string | null,
      note: SPELLINGS[4],
      positions: [0, 3].map((more) => ({ ...xy(at(Number(x) + more, Number(y))), ...KNOWN })),
    })),
    features: [cave, twin, gone, far, plot('told/over', -10, -10, 22), plot('told/away', 350, -350, 15)],
    photos: [cave.id, readings[0]?.id ?? '', over.id, far.id, `the gate of ${SECRET}`].map((subject, i) => ({
      id: makeId('photo', 'told', String(i)),
      revised: SEEN,
      sha256: String(i).repeat(64),
      subject,
      time: `2026-05-02T${CLOCK}:00Z`,
    })),
    settlements: [],
  };
  const withUnknown = <T extends object>(entities: readonly T[]): readonly T[] =>
    entities.map((entity) => ({ ...entity, ...unknown }));
  return {
    ...survey,
    ...unknown,
    site: { ...survey.site, ...unknown },
    outings: withUnknown(survey.outings),
    lines: withUnknown(survey.lines),
    readings: withUnknown(survey.readings),
    references: withUnknown(survey.references),
    surroundings: withUnknown(survey.surroundings),
    features: withUnknown(survey.features),
    photos: withUnknown(survey.photos),
  };
}
