import geodesic from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import type { CrossingFinding } from '../../src/findings';
import type { Line, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading, madeReference } from '../helpers/made-survey';

interface Spot {
  readonly lon: number;
  readonly lat: number;
}
const { WGS84 } = geodesic.Geodesic;
const from = ({ lon, lat }: Spot, bearingDeg: number, distanceM: number): Spot => {
  const { lon2 = 0, lat2 = 0 } = WGS84.Direct(lat, lon, bearingDeg, distanceM);
  return { lon: lon2, lat: lat2 };
};

/** A straight line of 40 m that has `place` at a chainage, laid along a bearing. */
const through = (name: string, place: Spot, bearingDeg: number, chainageM: number): Line =>
  madeLine(name, [
    { chainageM: 0, ...from(place, bearingDeg + 180, chainageM) },
    { chainageM: 40, ...from(place, bearingDeg, 40 - chainageM) },
  ]);

/** Read every 2 m, all the same but for what is said of a line. */
function surveyOf(lines: readonly Line[], ohmM: Readonly<Record<string, number>> = {}): Survey {
  const readings = lines.flatMap((line) =>
    Array.from({ length: 21 }, (_, k) =>
      madeReading(line, { midpoint_m: 2 * k, spacing_m: 2, value: ohmM[line.name] ?? 300, hookup: 'pole_pole' }),
    ),
  );
  return { ...emptySurvey('edges'), lines: [...lines], readings };
}

const crossingsOf = (survey: Survey): readonly CrossingFinding[] => appraise(survey).crossings ?? [];
/** Chainage on each line, by its name. */
const placesOf = (survey: Survey): Record<string, number>[] =>
  crossingsOf(survey).map(({ lines, chainagesM }) =>
    Object.fromEntries(
      lines.map((id, i) => [survey.lines.find((line) => line.id === id)?.name ?? '?', chainagesM[i] as number]),
    ),
  );

describe('lines that cross at 180°', () => {
  it.each([
    ['on the meridian itself', 0],
    ['a little west of it', -8],
    ['a little east of it', 8],
  ])('are found to cross once, %s', (_, eastM) => {
    const place = from({ lon: 180, lat: -16.5 }, 90, eastM);
    const survey = surveyOf([through('E', place, 90, 25), through('N', place, 10, 15), through('W', place, 300, 21)]);
    const found = placesOf(survey);
    expect(found).toHaveLength(3);
    const truth: Record<string, number> = { E: 25, N: 15, W: 21 };
    for (const one of found) {
      for (const [name, chainageM] of Object.entries(one)) {
        expect(Math.abs(chainageM - (truth[name] as number)), name).toBeLessThan(0.02);
      }
    }
    expect(found.map((one) => Object.keys(one).sort().join('')).sort()).toEqual(['EN', 'EW', 'NW']);
  });

  it('do not cross what lies on the other side of the Earth', () => {
    const survey = surveyOf([
      through('E', { lon: 180, lat: -16.5 }, 90, 20),
      through('far', { lon: 0, lat: -16.5 }, 0, 20),
    ]);
    expect(placesOf(survey)).toEqual([]);
  });
});

describe('lines that begin or end on each other', () => {
  const place = { lon: -91.9, lat: 37.4 };

  it.each([
    ['from one station two ways', 0, 0],
    ['the end of one at the beginning of the other', 40, 0],
    ['the end of one within the other', 40, 17],
  ])('meet there once: %s', (_, onFirst, onSecond) => {
    for (const bearing of [3, 33, 78, 111, 160]) {
      const survey = surveyOf([through('P', place, bearing, onFirst), through('Q', place, bearing + 70, onSecond)]);
      const [one, ...others] = placesOf(survey);
      expect(others).toEqual([]);
      expect(Math.abs((one?.P ?? Number.NaN) - onFirst)).toBeLessThan(0.05);
      expect(Math.abs((one?.Q ?? Number.NaN) - onSecond)).toBeLessThan(0.05);
    }
  });

  it('do not where one ends half a metre short of the other', () => {
    const short = from(place, 0, 0.5);
    expect(placesOf(surveyOf([through('P', short, 0, 0), through('Q', place, 90, 20)]))).toEqual([]);
  });

  it('cross once where one bends on the other', () => {
    const bent = madeLine('B', [
      { chainageM: 0, ...from(place, 200, 20) },
      { chainageM: 20, ...place },
      { chainageM: 40, ...from(place, 60, 20) },
    ]);
    for (const bearing of [90, 110, 130]) {
      expect(placesOf(surveyOf([bent, through('Q', place, bearing, 20)]))).toHaveLength(1);
    }
  });
});

describe('whether two lines agree where they cross', () => {
  const place = { lon: -91.9, lat: 37.4 };
  const lines = [through('P', place, 90, 20), through('Q', place, 0, 20)];
  const far = through('far', from(place, 0, 300), 90, 20);

  it('is told by the errors of the readings where the site has no quiet place, not by the scatter of the whole site', () => {
    const survey = surveyOf([...lines, far], { P: 300, Q: 450, far: 2000 });
    const [one] = crossingsOf(survey);
    expect(one?.standardErrorLn).toBeCloseTo(Math.SQRT2 * DEFAULT_SETTINGS.standardErrorFloor, 12);
    expect(one?.agree).toBe(false);
    const [alike] = crossingsOf(surveyOf([...lines, far], { P: 300, Q: 306, far: 2000 }));
    expect(alike?.agree).toBe(true);
  });

  it('is told with the scatter of quiet stations where these were read', () => {
    const survey = surveyOf([...lines, far]);
    const readings = survey.readings.map((reading, k) =>
      reading.line === far.id ? { ...reading, value: 300 * Math.exp(0.2 * (k % 2 === 0 ? 1 : -1)) } : reading,
    );
    const stations = [4, 10, 16, 22, 28, 34].map((chainageM) => ({ line: far, chainageM }));
    const [one] = crossingsOf({ ...survey, readings, references: [madeReference(stations)] });
    expect(one?.standardErrorLn).toBeGreaterThan(3 * DEFAULT_SETTINGS.standardErrorFloor);
  });
});
