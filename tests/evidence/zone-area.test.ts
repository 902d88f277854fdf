import geodesic from 'geographiclib-geodesic';
import geojsonValidation from 'geojson-validation';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { disclose } from '../../src/discretion/disclose';
import { type Crossing, trendOf } from '../../src/evidence/trend';
import { type SearchedVoid, zonesOf } from '../../src/evidence/zones';
import { geojsonText } from '../../src/exchange/write/geojson';
import type { Layer } from '../../src/exchange/write/layer-collection';
import { buildLayers } from '../../src/exchange/write/layers';
import type { Findings, Range95, ZoneFinding } from '../../src/findings';
import type { Line, Survey } from '../../src/survey/survey';
import { rfc7946Breaches } from '../helpers/assert-rfc7946';
import { normalNumbers } from '../helpers/chance';
import { openWithGdal } from '../helpers/gdal';
import { emptySurvey, madeLine, madeReading, madeReference } from '../helpers/made-survey';

/*
 * A passage under three lines, set out with geographiclib-geodesic (Karney 2013, doi 10.1007/s00190-012-0578-z): the
 * lines run east and are bent by `turnDeg` at their middle, which is where the passage crosses them.
 */

interface Spot {
  readonly lon: number;
  readonly lat: number;
}
const { WGS84 } = geodesic.Geodesic;
const from = ({ lon, lat }: Spot, bearingDeg: number, distanceM: number): Spot => {
  const { lon2 = 0, lat2 = 0 } = WGS84.Direct(lat, lon, bearingDeg, distanceM);
  return { lon: lon2, lat: lat2 };
};
/** Azimuth at the first of two places, 0 to 360. */
const azimuthBetween = (p: Spot, q: Spot): number => {
  const { azi1 = 0 } = WGS84.Inverse(p.lat, p.lon, q.lat, q.lon);
  return (azi1 + 360) % 360;
};
/** Degrees from one direction to another, directions being the same both ways. */
const apartDeg = (p: number, q: number): number => Math.abs(((((p - q) % 180) + 270) % 180) - 90);

const MIDDLE_M = 15;
const GAP_M = 12;
/** Clear of a passage with a radius of 1.5 m, short of where lines at 70° to it would have their own places. */
const BESIDE_M = 2;
const RADIUS_M: Range95 = { best: 1.2, low95: 1, high95: 1.5 };

interface Site extends Spot {
  readonly turnDeg: number;
  readonly passageDeg: number;
}

interface Made {
  readonly survey: Survey;
  readonly findings: Findings;
  readonly crossings: readonly Spot[];
  readonly zone: ZoneFinding;
}

function madeSite({ lon, lat, turnDeg, passageDeg }: Site): Made {
  const crossings = [0, 1, 2].map((i) => from({ lon, lat }, passageDeg, i * GAP_M));
  const lines = crossings.map(
    (middle, i): Line =>
      madeLine(`L${i + 1}`, [
        { chainageM: 0, ...from(middle, 270 - turnDeg / 2, MIDDLE_M) },
        { chainageM: MIDDLE_M, ...middle },
        { chainageM: 2 * MIDDLE_M, ...from(middle, 90 + turnDeg / 2, MIDDLE_M) },
      ]),
  );
  const [first] = lines as [Line, ...Line[]];
  const readings = lines.flatMap((line) =>
    Array.from({ length: 27 }, (_, k) =>
      madeReading(line, {
        midpoint_m: 2 + k,
        spacing_m: 2,
        value: Math.abs(2 + k - MIDDLE_M) <= 1 ? 600 : 300,
        hookup: 'pole_pole',
      }),
    ),
  );
  const references = [madeReference([2, 4, 6, 24, 26].map((chainageM) => ({ line: first, chainageM })))];
  const survey: Survey = { ...emptySurvey('zones'), lines, readings, references };
  const appraised = appraise(survey);
  const searched: SearchedVoid = {
    verdict: 'void_like',
    crossings: lines.map(({ id }) => ({
      lineId: id,
      chainageM: { best: MIDDLE_M, low95: MIDDLE_M - 0.6, high95: MIDDLE_M + 0.6 },
    })),
    depthM: { best: 2.5, low95: 2, high95: 3 },
    radiusM: RADIUS_M,
    chanceOfNoVoid: 0.004,
    midpoints: appraised.lines.flatMap(({ midpoints }) =>
      midpoints.filter(({ chainageM }) => Math.abs(chainageM - MIDDLE_M) <= 1).map(({ key }) => key),
    ),
  };
  const zones = zonesOf(
    appraised.lines,
    [searched],
    lines.map(({ id }) => id),
  );
  const [zone] = zones;
  if (!zone) throw new Error('a search makes a zone');
  return { survey, findings: { ...appraised, zones }, crossings, zone };
}

const SITES: readonly (readonly [string, Site])[] = [
  ['straight lines', { lon: -91.9, lat: 37.4, turnDeg: 0, passageDeg: 12 }],
  ['bent lines', { lon: -91.9, lat: 37.4, turnDeg: 50, passageDeg: 171 }],
  ['hairpins', { lon: 10, lat: 47, turnDeg: 150, passageDeg: 5 }],
  ['lines across 180°', { lon: 180, lat: -16.5, turnDeg: 0, passageDeg: 25 }],
  ['bent lines across 180°', { lon: -179.99999, lat: 65, turnDeg: -40, passageDeg: 160 }],
  ['a passage along the lines nearly', { lon: -91.9, lat: 37.4, turnDeg: 0, passageDeg: 70 }],
];
const SHEETS = SITES.map(([name, site]) => [name, madeSite(site)] as const);
const zonesLayer = ({ survey, findings }: Made): Layer =>
  buildLayers(disclose(survey, findings, 'surveyor'), { drape: 'midpoint', projected: null }).zones;

/** Places beside the middle of each gap, off by more than the widest half-width and the places of the lines' readings. */
const besides = ({ crossings }: Made): readonly Spot[] => {
  const [first, second, third] = crossings as [Spot, Spot, Spot];
  return [
    [first, second],
    [second, third],
  ].flatMap(([p, q]) => {
    const along = azimuthBetween(p as Spot, q as Spot);
    const middle = from(p as Spot, along, GAP_M / 2);
    return [90, 270].map((turn) => from(middle, along + turn, BESIDE_M));
  });
};

describe.each(SHEETS)('the area of a zone that a search has on three lines: %s', (name, made) => {
  const layer = zonesLayer(made);
  const text = geojsonText(layer);
  const sheet = `zones_${name.replace(/\W+/g, '_')}`;

  it('is one polygon layer that geojson-validation accepts and that has no breach of RFC 7946', () => {
    expect(layer.features.length).toBeGreaterThan(0);
    expect(geojsonValidation.valid(JSON.parse(text))).toBe(true);
    expect(rfc7946Breaches(text)).toEqual([]);
  });

  it('is valid to GDAL', async () => {
    const opened = await openWithGdal(sheet, text);
    expect(opened.geometryType).toBe('MultiPolygon');
    const valid = await opened.select(`select ST_IsValid(geometry) as valid from ${sheet}`);
    expect(valid.features.map(({ properties }) => properties?.valid)).toEqual(layer.features.map(() => 1));
  });

  it('holds every crossing and the way of the passage between them, and no ground well beside it', async () => {
    const opened = await openWithGdal(sheet, text);
    const holds = async (place: Spot): Promise<boolean> => {
      const point = `GeomFromText('POINT(${place.lon} ${place.lat})', 4326)`;
      const [answer] = (
        await opened.select(
          `select max(ST_Intersects(geometry, ${point})) as held from ${sheet} where basis = 'search'`,
        )
      ).features;
      return answer?.properties?.held === 1;
    };
    const [first, second, third] = made.crossings as [Spot, Spot, Spot];
    const along = azimuthBetween(first, third);
    const middles = [0.5, 1.5].map((gaps) => from(first, along, gaps * GAP_M));
    for (const place of [first, second, third, ...middles]) expect(await holds(place)).toBe(true);
    // Beyond both ends of the passage, and beside the gaps between the lines.
    const beyond = [-6, 2 * GAP_M + 6].map((aheadM) => from(first, along, aheadM));
    for (const place of beyond) expect(await holds(place)).toBe(false);
    for (const place of besides(made)) expect(await holds(place)).toBe(false);
  });

  it('trends as the geodesic from the first crossing to the last', () => {
    const { trendDeg } = made.zone;
    const [first, , third] = made.crossings as [Spot, Spot, Spot];
    const truth = azimuthBetween(first, third);
    expect(apartDeg(trendDeg?.best ?? Number.NaN, truth)).toBeLessThan(0.5);
    expect(((trendDeg?.high95 ?? 0) - (trendDeg?.low95 ?? 0)) / 2).toBeGreaterThan(
      apartDeg(trendDeg?.best ?? 0, truth),
    );
  });
});

/** Crossings of three parallel lines that run east, `gapM` apart, by a passage; each off along its line by `offM`. */
function crossingsOf(passageDeg: number, offM: readonly number[], sigmasM: readonly number[], gapM = 12): Crossing[] {
  const start = { lon: -91.9, lat: 37.4 };
  return offM.map((off, i): Crossing => {
    const middle = from(start, passageDeg, (i * gapM) / Math.cos((passageDeg * Math.PI) / 180));
    const [west, east] = [from(middle, 270, 20), from(middle, 90, 20)];
    const sigmaM = sigmasM[i] as number;
    return {
      line: {
        track: [
          { chainageM: 0, ...west, corner: true },
          { chainageM: 40, ...east, corner: true },
        ],
      },
      chainageM: { best: 20 + off, low95: 20 + off - 1.959964 * sigmaM, high95: 20 + off + 1.959964 * sigmaM },
    };
  });
}

describe('the trend of crossings', () => {
  it('is none for two lines, nor for three places that are not in a row', () => {
    expect(trendOf(crossingsOf(10, [0, 0], [0.3, 0.3]))).toBeNull();
    expect(trendOf(crossingsOf(10, [0, 0, 0], [0.3, 0.3, 0.3]))).not.toBeNull();
    expect(trendOf(crossingsOf(10, [0, 4, 0], [0.3, 0.3, 0.3]))).toBeNull();
    // The same places are in a row when each may be that far off.
    expect(trendOf(crossingsOf(10, [0, 4, 0], [3, 3, 3]))).not.toBeNull();
  });

  it('is none where the places say less than a right angle of it', () => {
    expect(trendOf(crossingsOf(10, [0, 0, 0], [8, 8, 8], 3))).toBeNull();
  });

  it.each([
    ['square to the lines', 0.5, [0.4, 0.4, 0.4]],
    ['square to the lines, known unequally', 179, [0.2, 0.6, 0.4]],
    ['at 70° to the lines', 20, [0.3, 0.5, 0.3]],
    ['at 60° to four lines', 150, [0.4, 0.3, 0.5, 0.4]],
  ] as const)('holds the truth with its 95 %% range in 90 to 99 %% of 400 simulated passages %s', (_, deg, sigmas) => {
    const normal = normalNumbers(77);
    const [first, last] = [
      from({ lon: -91.9, lat: 37.4 }, deg, 0),
      from({ lon: -91.9, lat: 37.4 }, deg, 30 / Math.cos((deg * Math.PI) / 180)),
    ];
    const truth = azimuthBetween(first, last);
    let [told, held] = [0, 0];
    for (let i = 0; i < 400; i += 1) {
      const offs = sigmas.map((sigma) => sigma * normal());
      const trend = trendOf(crossingsOf(deg, offs, sigmas));
      if (!trend || trend.best === null) continue;
      told += 1;
      expect(trend.best).toBeGreaterThanOrEqual(0);
      expect(trend.best).toBeLessThan(180);
      if (apartDeg(trend.best, truth) <= (trend.high95 - trend.low95) / 2) held += 1;
    }
    // By the χ² of 95 % one in twenty is not taken for a row.
    expect(told).toBeGreaterThan(360);
    expect(held / told).toBeGreaterThanOrEqual(0.9);
    expect(held / told).toBeLessThanOrEqual(0.99);
  });
});
