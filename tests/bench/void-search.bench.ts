import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import { nominalDistances } from '../../src/ground/layout';
import type { LineReading } from '../../src/ground/line-errors';
import { rivalsOf } from '../../src/ground/line-rivals';
import { posteriorNear, prepareLine, searchBounds } from '../../src/ground/line-search';
import { SCREENED, simulatedWithout } from '../../src/ground/search-threshold';
import { soilOverRock } from '../../src/ground/soil-kernel';
import { createVoidTable } from '../../src/ground/void-table';
import { verdictOf, voidSearch } from '../../src/studies/void-search';
import { normalFrom, uniformFrom } from '../helpers/blind-line';
import { clopperPearson } from '../helpers/clopper-pearson';
import { LADDER_M } from '../helpers/made-ladder';
import {
  madeSurvey,
  NOISE,
  REFERENCE_GROUND,
  SEARCH_LAYOUTS,
  SEARCH_LEVELS,
  searchInputFor,
} from '../helpers/made-search';

export interface BlindShare {
  readonly name: string;
  readonly hits: number;
  readonly tries: number;
  /** Clopper & Pearson, 95 %. */
  readonly low: number;
  readonly high: number;
}

export interface VoidSearchBench {
  /** Surveys without a void that had a candidate. */
  readonly falseAlarms: BlindShare;
  /** Of those, candidates that no other cause explains nearly as well. */
  readonly falseVoidLike: BlindShare;
  /** Passages found within 1.5 m, and by axis depth over radius. */
  readonly found: BlindShare;
  readonly foundByDepth: readonly BlindShare[];
  readonly foundVoidLike: BlindShare;
  /** Of the found: ranges that hold the truth. */
  readonly depthCovered: BlindShare;
  readonly radiusCovered: BlindShare;
  readonly chainageCovered: BlindShare;
  /** One line of 24 × 6 from nothing, table and simulations included. */
  readonly oneSearchMs: number;
}

const NEAR_M = 1.5;
const RATE = 0.05;
const SIMULATIONS = 200;
const REFERENCE_STATIONS = 5;
/** Seeds of the bench; those under 1,000,000 were used while the search was built. */
const FIRST_SEED = 2_000_000;
const DEPTHS = [1.5, 2, 2.5, 3] as const;

/**
 * Blind surveys through the parts of `voidSearch`. All surveys share layouts and noise, so that the errors and the
 * templates are prepared once, and what simulations give is kept for each unevenness that a survey may leave open.
 */
export function benchVoidSearch(without = 600, withVoid = 300, firstSeed = FIRST_SEED, refine = true): VoidSearchBench {
  const table = createVoidTable();
  const soil = soilOverRock(REFERENCE_GROUND);
  if (!soil) throw new Error('the reference has soil');
  const referenceLn = NOISE * Math.sqrt(1.5 / REFERENCE_STATIONS);
  const quiet = SEARCH_LAYOUTS.map((layout) => layeredApparentOhmM(REFERENCE_GROUND, nominalDistances(layout)));
  const blank = SEARCH_LAYOUTS.map(
    (layout, k): LineReading => ({
      layout,
      apparentOhmM: quiet[k] as number,
      referenceOhmM: quiet[k] as number,
      noiseLn: NOISE,
      referenceLn,
      group: String(SEARCH_LEVELS[k]),
    }),
  );
  const prepared = prepareLine(blank, soil, table, searchBounds(LADDER_M));
  const kept = new Map<string, number>();
  const thresholdUnder = (errors: number, simulations: number): number => {
    const key = `${errors} ${simulations}`;
    const known = kept.get(key);
    if (known !== undefined) return known;
    const normal = normalFrom(uniformFrom(1));
    const threshold = simulatedWithout(prepared, [errors], { simulations, rate: RATE, normal }).maxima.exceededBy(RATE);
    kept.set(key, threshold);
    return threshold;
  };
  // What `simulatedWithout` does for all of them together, which draws the same numbers for each.
  const thresholdOf = (errorsOpen: readonly number[]): number => {
    const strictest = errorsOpen.reduce((most, errors) =>
      thresholdUnder(errors, SCREENED) > thresholdUnder(most, SCREENED) ? errors : most,
    );
    return thresholdUnder(strictest, SIMULATIONS);
  };
  const search = (survey: ReturnType<typeof madeSurvey>, seed: number) => {
    // The reference has its own errors: a median of five stations.
    const normal = normalFrom(uniformFrom(seed + 7_000_000));
    const references = LADDER_M.map(() => referenceLn * normal());
    const lnRatio = survey.lnRatio.map((value, k) => value - (references[SEARCH_LEVELS[k] as number] as number));
    const line = { ...prepared, lnRatio };
    const scan = line.scanner.scan(lnRatio);
    if (scan.statistic < thresholdOf(scan.errorsOpen)) return null;
    const at = line.templates.list[scan.template]?.chainageM ?? 0;
    return {
      place: posteriorNear(line, table, lnRatio, { nearM: at, errors: scan.errors }),
      voidLike: verdictOf(scan.statistic, rivalsOf(line, lnRatio), 1) === 'void_like',
    };
  };
  const count = { alarms: 0, alarmsVoidLike: 0, found: 0, voidLike: 0, depth: 0, radius: 0, chainage: 0 };
  for (let i = 0; i < without; i += 1) {
    const candidate = search(madeSurvey(firstSeed + i, false), i);
    if (candidate) count.alarms += 1;
    if (candidate?.voidLike) count.alarmsVoidLike += 1;
  }
  const byDepth = DEPTHS.slice(1).map(() => ({ hits: 0, tries: 0 }));
  for (let i = 0; i < withVoid; i += 1) {
    const survey = madeSurvey(firstSeed + 500_000 + i, true, refine);
    const { passage } = survey;
    if (!passage) throw new Error('there is a passage');
    const ratio = passage.depthM / passage.radiusM;
    const group = byDepth[Math.min(DEPTHS.length - 2, DEPTHS.filter((depth) => ratio >= depth).length - 1)];
    if (group) group.tries += 1;
    const candidate = search(survey, without + i);
    if (!candidate || Math.abs(candidate.place.chainageM.best - passage.atM) > NEAR_M) continue;
    count.found += 1;
    if (group) group.hits += 1;
    if (candidate.voidLike) count.voidLike += 1;
    if (holds(candidate.place.depthM, passage.depthM)) count.depth += 1;
    if (holds(candidate.place.radiusM, passage.radiusM)) count.radius += 1;
    if (holds(candidate.place.chainageM, passage.atM)) count.chainage += 1;
  }
  return {
    falseAlarms: share('false alarms', count.alarms, without),
    falseVoidLike: share('false alarms called void-like', count.alarmsVoidLike, without),
    found: share(`found within ${NEAR_M} m`, count.found, withVoid),
    foundByDepth: byDepth.map(({ hits, tries }, k) =>
      share(`found, axis ${DEPTHS[k]} to ${DEPTHS[k + 1]} radii deep`, hits, tries),
    ),
    foundVoidLike: share('found and called void-like', count.voidLike, withVoid),
    depthCovered: share('depth range holds the truth', count.depth, count.found),
    radiusCovered: share('radius range holds the truth', count.radius, count.found),
    chainageCovered: share('chainage range holds the truth', count.chainage, count.found),
    oneSearchMs: timeOne(),
  };
}

/** One line of 24 × 6 by the study itself, the table of voids made for it. */
function timeOne(): number {
  const input = searchInputFor(madeSurvey(FIRST_SEED + 500_000, true, false), 1, SIMULATIONS);
  const start = performance.now();
  const result = voidSearch(input, (tick) => createVoidTable(tick));
  if (!result.ok) throw new Error(result.sentence);
  return performance.now() - start;
}

const holds = (range: { low95: number; high95: number }, truth: number): boolean =>
  range.low95 <= truth && truth <= range.high95;

function share(name: string, hits: number, tries: number): BlindShare {
  return { name, hits, tries, ...clopperPearson(hits, tries) };
}

/** "found within 1.5 m: 290 of 300 = 96.7 % (94.0 to 98.4)". */
export const shareText = ({ name, hits, tries, low, high }: BlindShare): string =>
  `${name}: ${hits} of ${tries} = ${((100 * hits) / Math.max(1, tries)).toFixed(1)} % (${(100 * low).toFixed(1)} to ${(100 * high).toFixed(1)})`;
