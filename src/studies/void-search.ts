import { findableUnder } from '../ground/findable';
import { createJointSearch, type JointFind } from '../ground/joint-search';
import { nominalDistances } from '../ground/layout';
import type { LineReading } from '../ground/line-errors';
import { PARAMETERS, type Rival, rivalsOf } from '../ground/line-rivals';
import {
  type Posterior,
  type PreparedLine,
  posteriorNear,
  prepareLine,
  type SearchBounds,
  searchBounds,
} from '../ground/line-search';
import { Maxima, simulatedWithout } from '../ground/search-threshold';
import { type SoilOverRock, soilOverRock } from '../ground/soil-kernel';
import { usefulReadings } from '../ground/useful-readings';
import type { VoidTable } from '../ground/void-table';
import type { Hookup } from '../survey/hookup';
import { done, type Outcome, type Refusal, refuse } from '../survey/outcome';
import { studyKey, type Tick } from './study-key';
import type {
  FindableVoid,
  RangeM,
  SearchVerdict,
  UsefulReading,
  VoidCandidate,
  VoidSearchResult,
} from './void-search-answer';
import type { SearchLine, SearchReading, VoidSearchInput } from './void-search-question';

export const voidSearchKey = (input: VoidSearchInput): string => studyKey('void-search', input);

/** Fewer readings, or fewer spacings, than this say nothing of a void along a line (choice). */
const FEWEST_READINGS = 20;
const FEWEST_SPACINGS = 4;
/** A second void under a line is looked for with the first one taken out, and so on, up to so many. */
const MOST_A_LINE = 3;
/** Considerably less support (Burnham & Anderson 2002, §2.6). */
const CONSIDERABLY = 4;
/** A reading carries a void that makes up so much of its ratio, in standard errors. */
const CARRIES_SIGMAS = 1;
/** A line counts to a passage through several lines when its own readings speak for it by this much. */
const COUNTS = 4;
/** Rock over soil, and soil thickness over the smallest spacing, where the reference shows no layers (choice). */
const UNKNOWN_CONTRAST = 3;
const UNKNOWN_THICKNESS = 0.7;

/** A line ready to be searched. */
interface Searched {
  readonly line: SearchLine;
  readonly prepared: PreparedLine;
  readonly readings: readonly SearchReading[];
  /** Largest statistics of surveys without a void, and the gains of every template in each, for the joint search. */
  readonly maxima: Maxima;
  readonly gains: readonly Float64Array[];
  /** The unevenness that suits the line with no void. */
  readonly errorsWithout: number;
}

/**
 * The study `void-search`: all readings of a line, or of lines near each other, fitted together. The level and the
 * reference's own errors are left open, soil of uneven thickness is a nuisance whose covariance is estimated from the
 * readings, and every void of a grid is held against that (generalised least squares, likelihood ratio). The threshold
 * comes from surveys simulated without a void on these very lines, so that the stated share of such surveys, and no more,
 * has a candidate anywhere. How uneven the soil is the readings leave open, and the strictest threshold counts.
 * It holds for uneven soil of that kind, not for ground of another make.
 * Refusals: `too_few_readings`.
 */
export function voidSearch(
  input: VoidSearchInput,
  tableOf: (tick: Tick) => VoidTable,
  tick: Tick = () => {},
): Outcome<VoidSearchResult> {
  const refused = searchRefusal(input);
  if (refused) return refused;
  const usable = input.lines.map((line) => ({ line, readings: usableOf(line) }));
  const table = tableOf((fraction) => tick(0.1 * fraction));
  const bounds = searchBounds(usable.flatMap(({ readings }) => readings.map(reachOf)));
  const normal = normalFrom(input.seed);
  const searched = usable.map(({ line, readings }, i): Searched => {
    const part = (fraction: number): void => tick(0.1 + (0.7 * (i + fraction)) / usable.length);
    return prepared(line, readings, table, bounds, input, normal, part);
  });
  const joint = searched.length > 1 ? jointSearch(searched) : null;
  const tests = searched.length + (joint ? 1 : 0);
  const perTest = -Math.expm1(Math.log1p(-input.falseAlarmRate) / tests);
  // Fewer than one in so many simulated surveys is all that they can tell.
  const least = 1 / (input.simulations + 1);
  const adjusted = (p: number): number => Math.max(least, -Math.expm1(tests * Math.log1p(-Math.min(1 - 1e-12, p))));
  const together = joint ? jointCandidate(joint, searched, table, perTest, adjusted) : null;
  tick(0.85);
  const alone = searched.flatMap((one) => candidatesOf(one, table, perTest, adjusted, together));
  const candidates = [...(together ? [together] : []), ...alone].sort((p, q) => q.statistic - p.statistic);
  tick(0.92);
  const findable = searched.flatMap(({ line, prepared: own, errorsWithout, maxima }) =>
    findableUnder(own, table, errorsWithout, maxima.exceededBy(perTest)).map(
      (one): FindableVoid => ({
        line: line.line,
        ...one,
      }),
    ),
  );
  tick(0.96);
  const useful = usefulFor(candidates[0] ?? null, searched, table);
  tick(1);
  const [first] = searched as [Searched, ...Searched[]];
  const uneven = first.prepared.errors[first.errorsWithout]?.uneven;
  return done({
    key: voidSearchKey(input),
    lines: searched.map(({ line }) => line.line),
    threshold: first.maxima.exceededBy(perTest),
    falseAlarmRate: input.falseAlarmRate,
    simulations: input.simulations,
    relief: { share: uneven?.lnThickness ?? 0, wavelengthM: uneven?.lengthM ?? 0 },
    candidates,
    findable,
    useful,
    remarks: remarksOf(searched),
  });
}

const usableOf = ({ readings }: SearchLine): readonly SearchReading[] =>
  readings.filter(({ referenceOhmM, apparentOhmM }) => referenceOhmM !== null && apparentOhmM > 0);

/** Why such lines cannot be searched: `too_few_readings`; null where they can. */
export function searchRefusal({ lines }: VoidSearchInput): Refusal | null {
  const poor = lines.find((line) => {
    const usable = usableOf(line);
    return usable.length < FEWEST_READINGS || new Set(usable.map(({ group }) => group)).size < FEWEST_SPACINGS;
  });
  if (!poor && lines.length > 0) return null;
  return refuse(
    'too_few_readings',
    `A search needs ${FEWEST_READINGS} readings with a reference at ${FEWEST_SPACINGS} spacings or more${poor ? `; line ${poor.line} has ${usableOf(poor).length}` : ''}. Read more stations or spacings, or leave the line out.`,
  );
}

/** How far a reading looks, as `usualVoidBounds` has it: its shortest current-to-potential distance. */
const reachOf = ({ layout }: SearchReading): number => Math.min(...Object.values(nominalDistances(layout)));

function prepared(
  line: SearchLine,
  readings: readonly SearchReading[],
  table: VoidTable,
  bounds: SearchBounds,
  { simulations, falseAlarmRate }: VoidSearchInput,
  normal: () => number,
  tick: Tick,
): Searched {
  const own = prepareLine(readings.map(lineReading), soilOf(line, readings), table, bounds);
  tick(0.1);
  const { errorsWithout, errorsOpen } = own.scanner.scan(own.lnRatio);
  const made = simulatedWithout(own, errorsOpen, {
    simulations,
    rate: falseAlarmRate,
    normal,
    tick: (fraction) => tick(0.1 + 0.9 * fraction),
  });
  return { line, prepared: own, readings, ...made, errorsWithout };
}

const lineReading = (reading: SearchReading): LineReading => ({
  layout: reading.layout,
  apparentOhmM: reading.apparentOhmM,
  referenceOhmM: reading.referenceOhmM as number,
  noiseLn: reading.sigmaLn,
  referenceLn: reading.referenceSigmaLn,
  group: reading.group,
});

function soilOf({ referenceGround }: SearchLine, readings: readonly SearchReading[]): SoilOverRock {
  const known = soilOverRock(referenceGround);
  if (known) return known;
  const [ohmM] = referenceGround.resistivitiesOhmM;
  const smallest = Math.min(...readings.map(reachOf));
  const soilOhmM = ohmM ?? 100;
  return { soilOhmM, rockOhmM: UNKNOWN_CONTRAST * soilOhmM, thicknessM: UNKNOWN_THICKNESS * smallest };
}

interface Joint {
  readonly find: JointFind | null;
  readonly maxima: Maxima;
}

function jointSearch(searched: readonly Searched[]): Joint | null {
  const search = createJointSearch(
    searched.map(({ prepared: own }) => own),
    searched.map(({ line }) => line.places),
  );
  const gainsOf = ({ prepared: { scanner, lnRatio } }: Searched): Float64Array => scanner.gains(lnRatio);
  const find = search.best(searched.map(gainsOf));
  if (!find) return null;
  const rounds = searched[0]?.gains.length ?? 0;
  const statistics = Array.from({ length: rounds }, (_, k) => {
    const made = search.best(searched.map(({ gains }) => gains[k] as Float64Array));
    return made?.statistic ?? 0;
  });
  return { find, maxima: new Maxima(statistics) };
}

/** A passage through several lines, where all of them together speak for it. */
function jointCandidate(
  { find, maxima }: Joint,
  searched: readonly Searched[],
  table: VoidTable,
  perTest: number,
  adjusted: (p: number) => number,
): VoidCandidate | null {
  const counting = find?.crossings.filter(({ gain }) => gain >= COUNTS).sort((p, q) => p.line - q.line) ?? [];
  if (!find || counting.length < 2 || find.statistic < maxima.exceededBy(perTest)) return null;
  const near = counting.map(({ line, chainageM }) => {
    const one = searched[line] as Searched;
    const { errors } = one.prepared.scanner.scan(one.prepared.lnRatio);
    return { one, chainageM, errors, alone: posterior(one, table, chainageM, errors) };
  });
  const joined = near.map(({ one, chainageM, errors }, i) => {
    const depthWeights = (near[0] as (typeof near)[number]).alone.depthsM.map((_, d) =>
      near.reduce((sum, other, k) => (k === i ? sum : sum + (other.alone.lnOfDepth[d] as number)), 0),
    );
    return posteriorNear(one.prepared, table, one.prepared.lnRatio, { nearM: chainageM, errors, depthWeights });
  });
  const main = joined.reduce((best, own, i) => (own.gain > (joined[best] as Posterior).gain ? i : best), 0);
  const own = joined[main] as Posterior;
  const rivals = near.map(({ one }) => rivalsOf(one.prepared, one.prepared.lnRatio));
  const all = (rival: Rival): number => rivals.reduce((sum, each) => sum + each[rival], 0);
  const summed = { layer: all('layer'), contact: all('contact'), conductor: all('conductor') };
  const gain = joined.reduce((sum, each) => sum + each.gain, 0);
  const verdict = verdictOf(gain, summed, near.length);
  const carried = near.flatMap(({ one }, i) => carriersOf(one, joined[i] as Posterior));
  const half = DIRECTION_HALF_DEG;
  return {
    line: (near[main] as (typeof near)[number]).one.line.line,
    kind: 'passage',
    chainageM: own.chainageM,
    depthM: own.depthM,
    radiusM: own.radiusM,
    bearingDeg: {
      best: find.directionDeg,
      low95: find.directionDeg - half,
      high95: find.directionDeg + half,
      openLow: false,
      openHigh: false,
    },
    crossings: near.map(({ one }, i) => ({ line: one.line.line, chainageM: (joined[i] as Posterior).chainageM })),
    statistic: find.statistic,
    pGlobal: adjusted(maxima.shareAbove(find.statistic)),
    verdict,
    rivals: summed,
    readings: carried,
    sentence: sentenceOf(verdict, near.length),
  };
}

/** Directions are tried 10° apart and a passage may wind: no finer than this is claimed (choice). */
const DIRECTION_HALF_DEG = 20;

const posterior = ({ prepared: own }: Searched, table: VoidTable, nearM: number, errors: number): Posterior =>
  posteriorNear(own, table, own.lnRatio, { nearM, errors });

/** Voids under one line alone, one after the other; those that a joint find has already are left out. */
function candidatesOf(
  one: Searched,
  table: VoidTable,
  perTest: number,
  adjusted: (p: number) => number,
  together: VoidCandidate | null,
): VoidCandidate[] {
  const { prepared: own, line, maxima } = one;
  const threshold = maxima.exceededBy(perTest);
  const found: VoidCandidate[] = [];
  const rest = Float64Array.from(own.lnRatio);
  for (let k = 0; k < MOST_A_LINE; k += 1) {
    const scan = own.scanner.scan(rest);
    if (scan.statistic < threshold) break;
    const template = own.templates.list[scan.template];
    if (!template) break;
    const near = posteriorNear(own, table, rest, { nearM: template.chainageM, errors: scan.errors });
    const known = together?.crossings.some(
      (crossing) => crossing.line === line.line && overlaps(crossing.chainageM, near.chainageM),
    );
    if (!known) {
      const rivals = rivalsOf(own, rest);
      const verdict = verdictOf(scan.statistic, rivals, 1);
      found.push({
        line: line.line,
        kind: near.bearingDeg === null ? 'chamber' : 'passage',
        chainageM: near.chainageM,
        depthM: near.depthM,
        radiusM: near.radiusM,
        bearingDeg: near.bearingDeg,
        crossings: [{ line: line.line, chainageM: near.chainageM }],
        statistic: scan.statistic,
        pGlobal: adjusted(maxima.shareAbove(scan.statistic)),
        verdict,
        rivals,
        readings: carriersOf(one, near),
        sentence: sentenceOf(verdict, 1),
      });
    }
    for (let i = 0; i < rest.length; i += 1) rest[i] = (rest[i] as number) - (near.lnRatio[i] as number);
  }
  return found;
}

/** Within so much of each other two finds under a line are one. */
const ONE_PLACE_M = 1.5;

const overlaps = (p: RangeM, q: RangeM): boolean =>
  p.low95 <= q.high95 + ONE_PLACE_M && q.low95 <= p.high95 + ONE_PLACE_M;

/** Gains with Akaike's price for the parameters; a void has to be considerably better than each other cause. */
export function verdictOf(gain: number, rivals: Readonly<Record<Rival, number>>, lines: number): SearchVerdict {
  const worth = (cause: Rival | 'void', own: number): number => own - 2 * PARAMETERS[cause] * lines;
  const others = (Object.keys(rivals) as Rival[]).map((rival) => ({ rival, worth: worth(rival, rivals[rival]) }));
  const [best] = others.sort((p, q) => q.worth - p.worth) as [(typeof others)[number]];
  const lead = worth('void', gain) - best.worth;
  if (lead >= CONSIDERABLY) return 'void_like';
  if (lead > -CONSIDERABLY || best.rival === 'conductor') return 'unresolved';
  return best.rival === 'layer' ? 'layer_like' : 'contact_like';
}

/** Readings to which the likeliest void does something, the weightiest first. */
function carriersOf({ readings, prepared: own }: Searched, { lnRatio }: Posterior): string[] {
  return readings
    .map(({ id, sigmaLn }, i) => ({
      id,
      weight: Math.abs(lnRatio[i] as number) / sigmaLn,
      own: own.lnRatio[i] as number,
      of: lnRatio[i] as number,
    }))
    .filter(({ weight, own: ratio, of }) => weight >= CARRIES_SIGMAS && Math.sign(ratio) === Math.sign(of))
    .sort((p, q) => q.weight - p.weight)
    .map(({ id }) => id);
}

function usefulFor(candidate: VoidCandidate | null, searched: readonly Searched[], table: VoidTable): UsefulReading[] {
  const one = candidate && searched.find(({ line }) => line.line === candidate.line);
  if (!candidate || !one) return [];
  const { errors } = one.prepared.scanner.scan(one.prepared.lnRatio);
  const near = posterior(one, table, candidate.chainageM.best, errors);
  const hookups = one.readings.map(({ hookup }) => hookup);
  const hookup = mostOf(hookups);
  const spacingsM = [...new Set(one.readings.filter((r) => r.hookup === hookup).map(({ spacingM }) => spacingM))];
  return usefulReadings(one.prepared, table, {
    hookup,
    spacingsM,
    atM: candidate.chainageM.best,
    found: near.likeliest,
    errors,
  }).map(({ chainageM, spacingM, gain, ifVoid, ifNot }) => ({
    line: candidate.line,
    chainageM,
    spacingM,
    hookup,
    gain,
    ifVoid,
    ifNot,
  }));
}

function mostOf(hookups: readonly Hookup[]): Hookup {
  const counts = new Map<Hookup, number>();
  for (const hookup of hookups) counts.set(hookup, (counts.get(hookup) ?? 0) + 1);
  return [...counts].sort(([, p], [, q]) => q - p)[0]?.[0] ?? 'pole_pole';
}

const SENTENCES: Readonly<Record<SearchVerdict, string>> = {
  void_like:
    'A void explains these readings considerably better than uneven soil, soil of another thickness, contact at one rod or a body that conducts better. That is no proof: ground of another make can read alike.',
  layer_like: 'Soil that steps to another thickness explains these readings better than a void.',
  contact_like: 'Contact at one place of a rod explains these readings better than a void.',
  unresolved:
    'More than uneven soil of this line explains, but a void is not considerably better than soil of another thickness, contact, or a body that conducts better.',
};

const sentenceOf = (verdict: SearchVerdict, lines: number): string =>
  lines > 1 ? `${lines} lines together: ${SENTENCES[verdict]}` : SENTENCES[verdict];

function remarksOf(searched: readonly Searched[]): string[] {
  const unknown = searched.filter(({ line }) => !soilOverRock(line.referenceGround)).map(({ line }) => line.line);
  return [
    'Voids are filled with air, round, level and straight, right under the line; what they do in uniform ground is put on top of the reference.',
    'Soil is taken to be uneven along the line and alike across it, its covariance within what these readings leave open; the threshold holds for such soil.',
    'Flat ground: slopes are left out.',
    'Ranges hold 95 %, given that there is a void: for the place every one within the bounds is taken as likely before; for depth and size they are all that fits nearly as well as the best.',
    ...(unknown.length > 0
      ? [`The reference of line ${unknown.join(', ')} shows no layers: thin soil over rock was assumed for unevenness.`]
      : []),
  ];
}

/** Normal numbers from a seed: a Weyl counter through the finaliser of MurmurHash3, and Box & Muller (1958). */
function normalFrom(seed: number): () => number {
  let state = Math.imul(seed + 1, 0x85ebca6b) >>> 0;
  const uniform = (): number => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
