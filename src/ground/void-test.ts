import { done, type Outcome, refuse } from '../survey/outcome';
import { bodiesBeside, contactBeside, type ShareOfContact } from './contact-beside';
import { geometricFactorM } from './geometric-factor';
import { akaike, CONSIDERABLY_LESS_SUPPORT, criterionWeights, SUBSTANTIAL_SUPPORT } from './information-criterion';
import { ladderErrors, USUAL_UNEVENNESS } from './ladder-errors';
import { contactAlone, noVoid, otherLayer, otherLayers, type Rival } from './ladder-rivals';
import type { LayeredGround } from './layered-kernel';
import { type Layout, nominalDistances } from './layout';
import { type BestVoid, bestVoid } from './void-grid';
import { TRIED_VOIDS, type VoidTable } from './void-table';
import type { VoidBounds } from './void-walk';

/** A reading of a ladder beside what the reference reads at that spacing. */
export interface ComparedReading {
  readonly layout: Layout;
  readonly apparentOhmM: number;
  readonly referenceOhmM: number;
  /** Standard error of ln(reading/reference): noise of the reading and of the reference, uneven soil not counted. */
  readonly sigmaLn: number;
}

export interface VoidQuestionOfLadder {
  readonly midpointM: number;
  readonly readings: readonly ComparedReading[];
  /** Layers that the reference's own ladder shows; one layer where it shows none. */
  readonly referenceGround: LayeredGround;
  /** Whether contact of the rods can get into these readings: pole-pole, not four-electrode. */
  readonly feelsContact: boolean;
  /** Bounds of the search; see `usualVoidBounds`. */
  readonly bounds?: VoidBounds;
  readonly unevenness?: typeof USUAL_UNEVENNESS;
}

export type VoidVerdict = 'no_void_needed' | 'void_like' | 'layer_like' | 'contact_like' | 'unresolved' | 'beyond_void';

/** `conductor`: a body of ground that conducts better than what is about it, such as clay or wet soil. */
export type Cause = 'none' | 'layer' | 'contact' | 'conductor' | 'void';

export interface VoidTest {
  readonly verdict: VoidVerdict;
  /** Akaike's; only differences count. Infinity where a cause was not tried. */
  readonly criteria: Readonly<Record<Cause, number>>;
  /** Criterion of the best void less that of the best other cause: below 0 speaks for a void. */
  readonly deltaCriterion: number;
  /** Weights of the causes (Akaike weights), summing to 1: how these compare, not how likely a void is. */
  readonly weights: Readonly<Record<Cause, number>>;
  /** The empty void that fits best within bounds, and everything within 95 % of it. */
  readonly best: BestVoid;
  readonly bounds: VoidBounds;
  /** Best factor on the thickness of the reference's uppermost layer; null where it has none. */
  readonly thicknessFactor: number | null;
  /**
   * Share of contact in each reading beside whatever else changes the ladder, reference taken as free of contact; empty
   * where contact was not tried.
   */
  readonly contactShares: readonly ShareOfContact[];
  /** What could be the cause, for people. */
  readonly sentence: string;
}

/** Fewer readings than this cannot tell a void of unknown depth, size and place from anything (choice). */
const FEWEST_READINGS = 5;
/** Level shift, depth, radius, offset. */
const BODY_PARAMETERS = 4;
/**
 * Bodies whose middle is no deeper than this share of the shortest current-to-potential distance are near the surface
 * (choice: thickness of soil is not to be had from a ladder that begins no shorter, and of made boulders every one that a
 * void explained well was explained as well there).
 */
const NEAR_SURFACE = 0.7;

/**
 * Bounds of what is tried (choice): axis or centre from four tenths of the shortest current-to-potential distance down to
 * eight tenths of the longest, radius up to 5 m and between 0.15 and 0.8 of the depth, middle up to three quarters of the
 * longest distance from the midpoint.
 */
export function usualVoidBounds(layouts: readonly Layout[]): VoidBounds {
  const spans = spansOf(layouts);
  const [shortestM, longestM] = [Math.min(...spans), Math.max(...spans)];
  const shallowestM = 0.4 * shortestM;
  return {
    shallowestM,
    deepestM: 0.8 * longestM,
    smallestRadiusM: 0.15 * shallowestM,
    largestRadiusM: 5,
    farthestM: 0.75 * longestM,
  };
}

const spansOf = (layouts: readonly Layout[]): number[] =>
  layouts.map((layout) => Math.min(...Object.values(nominalDistances(layout))));

/**
 * What a ladder that departs from its reference can be: nothing but scatter and uneven soil, another soil thickness,
 * contact, a body that conducts, or an air-filled void; each with a free level shift, on the same errors, compared by
 * Akaike's criterion (Burnham & Anderson 2002, §2.6: within 2 both stand, from 4 on the worse has considerably less
 * support). Bodies pay 2 ln J more for their J kinds and bearings (after Chen & Chen 2008, Biometrika 95:759). What fills
 * a body is never named: a body that conducts only keeps a void from being the verdict. So does an empty void near the
 * surface that is within 2 of the best: a boulder there, whose answer is that of a somewhat smaller void (Stratton 1941; see
 * small-void.ts), would be no worse.
 * Approximations: the void's ratio is that in uniform ground, put on top of the reference's own ladder (the layering
 * divided out); a round chamber or straight, level, round passage right under the line, filled with air; flat ground.
 * Refusals: `too_few_spacings` (fewer than five), `reading_not_positive`.
 */
export function testForVoid(question: VoidQuestionOfLadder, table: VoidTable): Outcome<VoidTest> {
  const { readings, midpointM, referenceGround } = question;
  const spacings = new Set(
    readings.map(({ layout }) => Object.values(nominalDistances(layout)).map(Math.fround).join(' ')),
  );
  if (spacings.size < FEWEST_READINGS) {
    return refuse(
      'too_few_spacings',
      `A void test needs ${FEWEST_READINGS} different spacings with a reference or more; this ladder has ${spacings.size}. Read more spacings here.`,
    );
  }
  if (
    !readings.every(({ apparentOhmM, referenceOhmM, sigmaLn }) => apparentOhmM > 0 && referenceOhmM > 0 && sigmaLn > 0)
  ) {
    return refuse(
      'reading_not_positive',
      'A reading that is not above 0 cannot be tested: leave it out or read it again.',
    );
  }
  const layouts = readings.map(({ layout }) => layout);
  const lnRatio = Float64Array.from(readings, ({ apparentOhmM, referenceOhmM }) =>
    Math.log(apparentOhmM / referenceOhmM),
  );
  const sigmas = readings.map(({ sigmaLn }) => sigmaLn);
  const errors = ladderErrors(referenceGround, layouts, sigmas, question.unevenness ?? USUAL_UNEVENNESS);
  const bounds = question.bounds ?? usualVoidBounds(layouts);
  const search = [errors, lnRatio, layouts, midpointM, bounds, NEAR_SURFACE * Math.min(...spansOf(layouts))] as const;
  const best = bestVoid(table, 'air', ...search);
  const conductor = bestVoid(table, 'conductor', ...search);
  if (!best || !conductor)
    return refuse('no_void_within_bounds', 'No void fits within the bounds of the search: widen them.');
  const layers = otherLayers(referenceGround, layouts);
  const layer = otherLayer(errors, lnRatio, layers);
  const perOhm = readings.map(
    ({ layout, referenceOhmM }) => geometricFactorM(nominalDistances(layout)) / referenceOhmM,
  );
  const rivals: Record<Cause, Rival | null> = {
    none: noVoid(errors, lnRatio),
    layer,
    contact: question.feelsContact ? contactAlone(errors, lnRatio, perOhm) : null,
    conductor: { chiSquare: conductor.chiSquare, parameters: BODY_PARAMETERS },
    void: { chiSquare: best.chiSquare, parameters: BODY_PARAMETERS },
  };
  const criterionOf = (rival: Rival | null): number =>
    rival === null
      ? Infinity
      : akaike({
          sumOfSquares: rival.chiSquare,
          observations: readings.length,
          parameters: rival.parameters,
          sigmaKnown: true,
        });
  const kinds = 2 * Math.log(TRIED_VOIDS.length);
  const criteria: Record<Cause, number> = {
    none: criterionOf(rivals.none),
    layer: criterionOf(rivals.layer),
    contact: criterionOf(rivals.contact),
    conductor: criterionOf(rivals.conductor) + kinds,
    void: criterionOf(rivals.void) + kinds,
  };
  const explains = (cause: Cause): boolean => {
    const rival = rivals[cause];
    return rival !== null && rival.chiSquare <= limitOf(readings.length - rival.parameters);
  };
  const nearSurface = best.shallowChiSquare <= best.chiSquare + SUBSTANTIAL_SUPPORT;
  const verdict = verdictOf(criteria, explains, nearSurface);
  const weights = criterionWeights(CAUSES.map((cause) => criteria[cause]));
  return done({
    verdict,
    criteria,
    deltaCriterion: criteria.void - bestBut('void', criteria),
    weights: Object.fromEntries(CAUSES.map((cause, i) => [cause, weights[i]])) as Record<Cause, number>,
    best,
    bounds,
    thicknessFactor: layer.thicknessFactor,
    contactShares: question.feelsContact
      ? contactBeside(errors, lnRatio, perOhm, [
          new Float64Array(lnRatio.length),
          ...layers.map((other) => other.lnRatio),
          ...bodiesBeside(table, layouts, midpointM, bounds),
        ])
      : [],
    sentence: sentenceOf(verdict, criteria, nearSurface),
  });
}

const CAUSES: readonly Cause[] = ['none', 'layer', 'contact', 'conductor', 'void'];

const bestBut = (but: Cause, criteria: Readonly<Record<Cause, number>>): number =>
  Math.min(...CAUSES.filter((cause) => cause !== but).map((cause) => criteria[cause]));

function verdictOf(
  criteria: Readonly<Record<Cause, number>>,
  explains: (cause: Cause) => boolean,
  nearSurface: boolean,
): VoidVerdict {
  const first = CAUSES.reduce((p, q) => (criteria[q] < criteria[p] ? q : p));
  if (!CAUSES.some(explains)) return 'beyond_void';
  if (explains('none') && criteria.none <= criteria[first] + SUBSTANTIAL_SUPPORT) return 'no_void_needed';
  // Thicker soil is ground that conducts better as well: that body is a rival of a void only.
  const others = first === 'void' ? criteria : { ...criteria, conductor: Infinity };
  const lead = bestBut(first, others) - criteria[first];
  if (lead < CONSIDERABLY_LESS_SUPPORT || !explains(first)) return 'unresolved';
  return first === 'void' && nearSurface ? 'unresolved' : VERDICT_OF[first];
}

const VERDICT_OF: Readonly<Record<Cause, VoidVerdict>> = {
  none: 'unresolved',
  layer: 'layer_like',
  contact: 'contact_like',
  conductor: 'unresolved',
  void: 'void_like',
};

/** What is unresolved because of a body that conducts, or of a boulder, is told apart from what is so otherwise. */
function sentenceOf(verdict: VoidVerdict, criteria: Readonly<Record<Cause, number>>, nearSurface: boolean): string {
  if (verdict !== 'unresolved') return SENTENCES[verdict];
  if (criteria.conductor <= bestBut('conductor', criteria)) return CONDUCTOR_FITS_BEST;
  const lead = bestBut('void', criteria) - criteria.void;
  if (lead >= CONSIDERABLY_LESS_SUPPORT) return nearSurface ? BOULDER_COULD_TOO : SENTENCES.unresolved;
  const isBeside = criteria.conductor < bestBut('conductor', { ...criteria, void: Infinity });
  return lead > 0 && isBeside ? CONDUCTOR_COULD_TOO : SENTENCES.unresolved;
}

const CONDUCTOR_FITS_BEST =
  'A body of ground that conducts better (clay, wet soil) explains this ladder at least as well as an empty void or any other cause tried. What it is cannot be named from one ladder: read the neighbouring midpoints.';
const CONDUCTOR_COULD_TOO =
  'An empty void explains this ladder best, but ground that conducts better (clay, wet soil) could make this too, or nearly. Read the neighbouring midpoints, and read this one again with the rods wetted or re-driven.';

const BOULDER_COULD_TOO =
  'An empty void explains this ladder best, but one just under the surface explains it as well, and there a boulder would read alike. Read the neighbouring midpoints, and closer spacings here.';

/** 99 % point of χ² with so many degrees of freedom (Wilson & Hilferty 1931, PNAS 17:684); at least that of one. */
function limitOf(degrees: number): number {
  const d = Math.max(1, degrees);
  return d * (1 - 2 / (9 * d) + 2.3263 * Math.sqrt(2 / (9 * d))) ** 3;
}

const SENTENCES: Readonly<Record<VoidVerdict, string>> = {
  no_void_needed:
    'Scatter and the usual unevenness of the soil explain this ladder as well as a void would. That does not rule a void out: a smaller or deeper one would not show.',
  void_like:
    'An air-filled void explains this ladder clearly better than uneven soil, another soil thickness, contact or a body of clay or wet ground. That is no proof: a large boulder or geology that is not flat can look the same.',
  layer_like:
    'Soil of another thickness than at the reference explains this ladder clearly better than a void or contact.',
  contact_like: 'Contact of the rods explains this ladder clearly better than a void or another soil thickness.',
  unresolved:
    'More than one cause explains this ladder about equally well. Read the neighbouring midpoints, and read this one again with the rods wetted or re-driven.',
  beyond_void:
    'No void within the bounds of this test can make this ladder, nor can soil thickness, an even contact or a body of clay. What else could: contact that changes from reading to reading, geology that is not flat, an opening or a cutting nearby, a layered cover that the reference does not have, or a larger void.',
};
