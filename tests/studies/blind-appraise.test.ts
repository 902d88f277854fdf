import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { DEFAULT_SETTINGS } from '../../src/evidence/settings';
import type { Findings, ZoneFinding } from '../../src/findings';
import { createVoidTable } from '../../src/ground/void-table';
import { groupInput, searchGroups, searchSurvey } from '../../src/studies/search-survey';
import { voidSearch } from '../../src/studies/void-search';
import type { VoidSearchResult } from '../../src/studies/void-search-answer';
import type { Hookup } from '../../src/survey/hookup';
import type { Line, Survey } from '../../src/survey/survey';
import { LADDER_M } from '../helpers/made-ladder';
import { type MadeSurvey, madeSurvey, SEARCH_LEVELS, STATIONS } from '../helpers/made-search';
import { emptySurvey, madeLine, madeOuting, madeReading, madeReference } from '../helpers/made-survey';

/*
 * Blind surveys as records, through everything that a user's survey goes through: appraised, searched, appraised again
 * with what the search found. The reference is five stations of a line 100 m off, over soil of another seed, and the
 * layers are what the program makes of their ladder. Seeds are in a row from numbers that nothing else uses.
 */

/** Fewer than the 300 of a user, for the time that it takes; the rate of false alarms is the same. */
const SIMULATIONS = 40;
const FIRST_SEED = 31_000_000;
const QUIET_SEED = 32_000_000;
const WITHOUT = 8;
const WITH = 4;
const SLOW_MS = 180_000;
const REFERENCE_M = [1, 6, 11, 16, 21];
/** Of latitude and of longitude at 37.4° on WGS 84, m: arc lengths by the series of NIMA TR8350.2, to 1 m. */
const DEGREE_M = { north: 110_993, east: 88_546 };

const eastwards = (name: string, northM: number): Line => {
  const [lon, lat] = [-91.9, 37.4 + northM / DEGREE_M.north];
  const lengthM = STATIONS - 1;
  return madeLine(name, [
    { chainageM: 0, lon, lat },
    { chainageM: lengthM, lon: lon + lengthM / DEGREE_M.east, lat },
  ]);
};
const main = eastwards('M', 0);
const quiet = eastwards('Q', 100);
const day = madeOuting('one day', { date: '2026-05-12' });

function surveyOf(made: MadeSurvey, beside: MadeSurvey, hookup: Hookup = 'pole_pole'): Survey {
  const rows = [
    { line: main, values: made.apparentOhmM, stations: null },
    { line: quiet, values: beside.apparentOhmM, stations: REFERENCE_M },
  ];
  const readings = rows.flatMap(({ line, values, stations }) =>
    [...values].flatMap((value, k) => {
      const station = k % STATIONS;
      const spacing = LADDER_M[SEARCH_LEVELS[k] as number] as number;
      if (stations && !stations.includes(station)) return [];
      return [madeReading(line, { midpoint_m: station, spacing_m: spacing, value, hookup, outing: day.id })];
    }),
  );
  const references = [madeReference(REFERENCE_M.map((chainageM) => ({ line: quiet, chainageM })))];
  return { ...emptySurvey(), outings: [day], lines: [main, quiet], readings, references };
}

let table: ReturnType<typeof createVoidTable> | null = null;
const tableOf = () => {
  table ??= createVoidTable();
  return table;
};

/** As `searchSurvey`, by its own parts, with fewer simulations. */
function searched(survey: Survey, findings: Findings): readonly VoidSearchResult[] {
  return searchGroups(findings.lines).flatMap((group) => {
    const { input } = groupInput(survey, findings, group);
    const result = input ? voidSearch({ ...input, simulations: SIMULATIONS }, tableOf) : null;
    return result?.ok ? [result.value] : [];
  });
}

const blind = (i: number, made: MadeSurvey) => {
  const survey = surveyOf(made, madeSurvey(QUIET_SEED + i, false));
  const before = appraise(survey);
  const searches = searched(survey, before);
  // The line of the reference is not held against itself.
  expect(searches.map(({ lines }) => lines)).toEqual([['M']]);
  const after = appraise(survey, DEFAULT_SETTINGS, undefined, { searches });
  return { before, after, searches };
};
type Blind = ReturnType<typeof blind> & { readonly made: MadeSurvey; readonly atM: number };
const passages = new Map<number, Blind>();
/** Boundary elements and searches take a while: each survey over a passage is made once. */
function blindOverPassage(i: number): Blind {
  const known = passages.get(i);
  if (known) return known;
  const made = madeSurvey(FIRST_SEED + 100 + i, true);
  const fresh = { made, atM: made.passage?.atM ?? Number.NaN, ...blind(100 + i, made) };
  passages.set(i, fresh);
  return fresh;
}
const voidLike = ({ zones }: Findings): readonly ZoneFinding[] =>
  zones.filter(({ verdict }) => verdict === 'void_like');
const holds = ({ footprint }: ZoneFinding, line: Line, chainageM: number): boolean =>
  footprint.some(({ lineId, fromM, toM }) => lineId === line.id && fromM <= chainageM && chainageM <= toM);
/** As near as the bench of the search asks for. */
const NEAR_M = 1.5;
const isNear = ({ crossings }: ZoneFinding, chainageM: number): boolean =>
  crossings.some(
    ({ lineId, chainageM: { best } }) => lineId === main.id && Math.abs((best ?? NaN) - chainageM) < NEAR_M,
  );

describe('blind surveys through the whole pipeline', () => {
  it(
    `without a void: at most 1 of ${WITHOUT} has a zone that is void-like, and none has one before it was searched`,
    () => {
      let alarms = 0;
      for (let i = 0; i < WITHOUT; i += 1) {
        const { before, after } = blind(i, madeSurvey(FIRST_SEED + i, false));
        expect(voidLike(before)).toEqual([]);
        if (voidLike(after).length > 0) alarms += 1;
        expect(after.searchedLines).toEqual([main.id]);
      }
      expect(alarms).toBeLessThanOrEqual(1);
    },
    SLOW_MS,
  );

  it(
    `with a passage: at least 3 of ${WITH} have a void-like zone over it, and no more than 1 a void-like zone elsewhere`,
    () => {
      let [found, elsewhere] = [0, 0];
      for (let i = 0; i < WITH; i += 1) {
        const { before, after, atM } = blindOverPassage(i);
        expect(voidLike(before)).toEqual([]);
        const zones = voidLike(after);
        // A footprint as long as the line would hold anything: the fit has to be near too.
        if (zones.some((zone) => holds(zone, main, atM) && isNear(zone, atM))) found += 1;
        if (zones.some((zone) => !holds(zone, main, atM))) elsewhere += 1;
      }
      expect(found).toBeGreaterThanOrEqual(3);
      expect(elsewhere).toBeLessThanOrEqual(1);
    },
    SLOW_MS,
  );

  it(
    'the same numbers read with two probes are never void-like, have no corridor, and cannot be searched',
    () => {
      for (let i = 0; i < WITH; i += 1) {
        const survey = surveyOf(blindOverPassage(i).made, madeSurvey(QUIET_SEED + 100 + i, false), 'two_probe');
        const before = appraise(survey);
        const { results, leftOut } = searchSurvey(survey, before, tableOf);
        expect(results).toEqual([]);
        expect(leftOut.map(({ lines }) => lines)).toEqual([['M'], ['Q']]);
        for (const { sentence } of leftOut) expect(sentence).toContain('two-probe readings only');
        const after = appraise(survey, DEFAULT_SETTINGS, undefined, { searches: results });
        expect(voidLike(after)).toEqual([]);
        expect(after.lines.map(({ corridors }) => corridors)).toEqual([[], []]);
      }
    },
    SLOW_MS,
  );

  it(
    'two-probe hints that stand out three times over stay hints, even beside what a search found before in proper readings',
    () => {
      const { made, atM, searches, after: found } = blindOverPassage(0);
      const dry: MadeSurvey = {
        ...made,
        apparentOhmM: made.apparentOhmM.map((value, k) => (Math.abs((k % STATIONS) - atM) < 3 ? 3 * value : value)),
      };
      expect(voidLike(found)).toHaveLength(1);
      const survey = surveyOf(dry, madeSurvey(QUIET_SEED + 100, false), 'two_probe');
      const after = appraise(survey, DEFAULT_SETTINGS, undefined, { searches });
      expect(after.zones.length).toBeGreaterThan(0);
      for (const zone of after.zones) expect(zone).toMatchObject({ figureKind: 'two_probe', basis: 'grades' });
      expect(voidLike(after)).toEqual([]);
      expect(after.lines.map(({ corridors }) => corridors)).toEqual([[], []]);
    },
    SLOW_MS,
  );
});
