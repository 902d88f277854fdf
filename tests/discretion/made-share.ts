import { appraise } from '../../src/appraise';
import type { Audience } from '../../src/discretion/audience';
import { type Disclosed, disclose } from '../../src/discretion/disclose';
import { discloseTo, type Settled } from '../../src/discretion/disclose-to';
import type { EarlierShare } from '../../src/discretion/earlier-share';
import { featureLayers, setbackLayer } from '../../src/exchange/write/feature-layers';
import { geojsonText } from '../../src/exchange/write/geojson';
import { buildLayers } from '../../src/exchange/write/layers';
import { countedFeatures } from '../../src/karst/counted';
import { placeFeatures } from '../../src/karst/placed';
import { readSetbackRules } from '../../src/karst/setback-rules';
import { setbacksOf } from '../../src/karst/setbacks';
import { localPlane } from '../../src/position/crs';
import { makeId } from '../../src/survey/ids';
import type { Feature, Survey } from '../../src/survey/survey';
import { type Chance, chanceFrom } from '../fuzz/chance';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../helpers/made-survey';

/** A survey with an entrance that is to be protected, and where that lies. */
export interface MadeShare {
  readonly survey: Survey;
  readonly truth: { readonly lon: number; readonly lat: number };
  readonly gridM: number;
  readonly radiusM: number;
}

export const SECRET = 'Bluewhistle Cave';

export function feature(key: string, lon: number, lat: number, said: Partial<Feature> = {}): Feature {
  return {
    id: makeId('feature', 'share', key),
    revised: { at: '2026-03-01T10:00:00Z', by: 'Ann Example', count: 1 },
    type: 'sinkhole_unknown',
    status: 'field_checked',
    shape: 'point',
    positions: [{ x: lon, y: lat, crs: 'EPSG:4326', accuracy_m: 5, accuracy_level: 95 }],
    ...said,
  };
}

/**
 * Ground as a surveyor leaves it: an entrance; lines of which every second begins at it, and others that lie anywhere; a
 * strong anomaly where a line passes it; remotes, a sinkhole beside it, names and notes that speak of it.
 */
export function madeShare(seed: number, isTold = true): MadeShare {
  const chance = chanceFrom(seed);
  const truth = { lon: -170 + 340 * chance.real(), lat: -60 + 120 * chance.real() };
  const plane = localPlane(truth.lon, truth.lat);
  const at = (x: number, y: number) => plane.toLonLat(x, y);
  const gridM = chance.of([200, 500, 1000]);
  const radiusM = chance.of([20, 50]);
  /** Beside the entrance, or so far before it on a line that passes it. */
  const fromHere = (bearing: number, backM: number): readonly [number, number] => [
    6 * (chance.real() - 0.5) - backM * Math.sin(bearing),
    6 * (chance.real() - 0.5) - backM * Math.cos(bearing),
  ];
  const lines = Array.from({ length: 1 + chance.below(4) }, (_, i) => {
    const bearing = 2 * Math.PI * chance.real();
    const isHere = isTold && (i === 0 || chance.below(2) === 0);
    const [x, y] = isHere
      ? fromHere(bearing, chance.below(2) * 12)
      : [gridM * 2 * (chance.real() - 0.5), gridM * 2 * (chance.real() - 0.5)];
    const end = at(x + 60 * Math.sin(bearing), y + 60 * Math.cos(bearing));
    return madeLine(i === 0 && isTold ? 'Bluewhistle 1' : `L${i}`, [
      { chainageM: 0, ...at(x, y), accuracyM: 1 },
      { chainageM: 60, ...end, accuracyM: 1 },
    ]);
  });
  // A line that stops short of the entrance and would run into it.
  const aim = 2 * Math.PI * chance.real();
  const short = radiusM + 20 + radiusM * chance.real();
  if (isTold && chance.below(3) === 0) {
    const along = (m: number) => at(m * Math.sin(aim), m * Math.cos(aim));
    lines.push(
      madeLine('aimed', [
        { chainageM: 0, ...along(short + 60), accuracyM: 1 },
        { chainageM: 60, ...along(short), accuracyM: 1 },
      ]),
    );
  }
  const outing = madeOuting(`day ${seed}`, {
    date: '2026-05-02',
    people: ['Ann Example'],
    remotes: isTold && chance.below(3) === 0 ? [{ role: 'B', position: { ...xy(at(15, 5)), crs: 'EPSG:4326' } }] : [],
  });
  const readings = lines.flatMap((line) =>
    [6, 10, 14, 18, 22, 26].flatMap((m) =>
      [2, 4].map((spacing) =>
        madeReading(line, {
          outing: outing.id,
          midpoint_m: m,
          spacing_m: spacing,
          value: 100 * (m <= 10 ? 2.4 : 1) * (1 + 0.02 * chance.real()),
          hookup: 'wenner_alpha',
          note: isTold && m === 6 ? `10 m from ${SECRET}` : null,
          time: '2026-05-02T10:15:00+02:00',
        }),
      ),
    ),
  );
  const others = Array.from({ length: 4 }, (_, i) => {
    const { lon, lat } = at(gridM * 2 * (chance.real() - 0.5), gridM * 2 * (chance.real() - 0.5));
    return feature(`${seed}/${i}`, lon, lat, { name: `Sink ${i}` });
  });
  const beside = at(12, -8);
  const spoken = at(gridM, -gridM);
  const told = isTold
    ? [
        feature(`${seed}/beside`, beside.lon, beside.lat, { name: 'Entrance doline' }),
        feature(`${seed}/spoken`, spoken.lon, spoken.lat, {
          source: chance.of([
            `200 m off the way to ${truth.lat.toFixed(5)}, ${truth.lon.toFixed(5)}`,
            'near the Bluewistle entrance',
            'bluewhistle-cave survey of 1987',
          ]),
        }),
      ]
    : [];
  const base = emptySurvey(`share ${seed}`);
  return {
    truth,
    gridM,
    radiusM,
    survey: {
      ...base,
      site: {
        ...base.site,
        setback_rules: [{ type: 'any', distance_m: 30, from: 'point', with_uncertainty: false }],
        discretion_classes: [
          {
            name: 'bats',
            keeper: { show: 'exact' },
            planner: { show: 'generalised', grid_m: gridM },
            public: chance.of([
              { show: 'withheld' },
              { show: 'generalised', grid_m: gridM },
              { show: 'generalised', grid_m: 1.5 * gridM },
            ]),
            protect_radius_m: radiusM,
            cites: 'invented for a test',
          },
        ],
      },
      outings: [outing],
      lines,
      readings,
      references: [
        madeReference(lines.slice(-1).flatMap((line) => [18, 22, 26].map((chainageM) => ({ line, chainageM })))),
      ],
      // The same hole, as the surveyor wrote it down on the day.
      surroundings:
        isTold && chance.below(2) === 0
          ? [
              {
                id: makeId('surrounding', 'share', String(seed)),
                revised: { at: null, by: 'Ann Example', count: 0 },
                kind: 'opening',
                name: SECRET,
                positions: [{ x: truth.lon, y: truth.lat, crs: 'EPSG:4326' }],
              },
            ]
          : [],
      features: [
        feature(`${seed}/secret`, truth.lon, truth.lat, {
          type: 'cave_entrance',
          name: SECRET,
          confidentiality: 'bats',
          depth_m: 17,
        }),
        ...told,
        ...others,
      ],
    },
  };
}

const xy = ({ lon, lat }: { lon: number; lat: number }) => ({ x: lon, y: lat });

/** Settles every leak in the same way, again and again until none is left. */
export function settledShare(
  survey: Survey,
  audience: Audience,
  decision: Settled['decision'],
  earlier: readonly EarlierShare[] = [],
  madeAt = '2026-06-01',
): { readonly disclosed: Disclosed; readonly leaks: number; readonly remembered: EarlierShare } {
  const findings = appraise(survey);
  const settled: Settled[] = [];
  for (let round = 0; round < 10; round += 1) {
    const outcome = discloseTo(survey, findings, audience, { settled, earlier });
    if (!outcome.ok) throw new Error(outcome.sentence);
    if (outcome.value.kind === 'disclosed') {
      const { disclosed, remember } = outcome.value;
      return { disclosed, leaks: settled.length, remembered: remember(madeAt) };
    }
    settled.push(...outcome.value.leaks.map(({ id }) => ({ leak: id, decision, why: 'a test' })));
  }
  throw new Error('leaks are never settled');
}

/** Every layer of a share as its text, and the whole of what writers get: nobody knows what they will write. */
export function textsOfShare(disclosed: Disclosed): readonly string[] {
  const { survey, findings } = disclosed;
  const rules = readSetbackRules(survey.site.setback_rules);
  const { placed } = placeFeatures(survey.features, survey.site.local_grids);
  const setbacks = setbacksOf(countedFeatures(placed).features, rules.ok ? rules.value : []).setbacks;
  const layers = {
    ...buildLayers(disclosed, { drape: 'midpoint' }),
    ...featureLayers(disclosed),
    setbacks: setbackLayer(disclosed, setbacks),
  };
  return [
    ...Object.values(layers).map(geojsonText),
    JSON.stringify(disclosed.withheld),
    JSON.stringify({ survey, findings }),
  ];
}

export const everything = (survey: Survey): Disclosed => disclose(survey, appraise(survey), 'surveyor');
export type { Chance };
