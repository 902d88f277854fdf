import { constantPart } from '../ground/constant-part';
import { contactNetwork, type SeatingContact } from '../ground/contact-network';
import { type Follows, followsWhat } from '../ground/follows';
import { geometricFactorM, twoProbeFactorM } from '../ground/geometric-factor';
import { nominalDistances } from '../ground/layout';
import { strayReading } from '../ground/stray-reading';
import { twoProbeLadder } from '../ground/two-probe';
import type { VoidTest } from '../ground/void-test';
import { metres, ratioText } from '../survey/wording';
import type { ProbePair, SoundingInput } from './sounding-input';

/**
 * `mostly_contact`: more than half of the ladder's middle reading; `part_contact`: some of it for certain;
 * `little_contact`: less than a fifth for certain; `hardly_felt`: four electrodes; `cannot_tell`.
 */
export type ContactWord = 'mostly_contact' | 'part_contact' | 'little_contact' | 'hardly_felt' | 'cannot_tell';

export interface ContactShare {
  readonly spacingM: number;
  readonly share: number;
  readonly low95: number;
  readonly high95: number;
}

export interface ContactVerdict {
  readonly verdict: ContactWord;
  /** Of the middle reading of the ladder; null where it was not estimated. */
  readonly share: number | null;
  readonly low95: number | null;
  readonly high95: number | null;
  readonly bySpacing: readonly ContactShare[];
  readonly sentence: string;
}

/** Shares from which a contact counts as most, and under which as little (choice). */
const MOST = 0.5;
const LITTLE = 0.2;
const FOR_CERTAIN = 0.02;
/** A two-probe figure 2πaR climbs about in proportion to spacing; a gentler slope than this is no two-probe's (choice). */
const GENTLEST_SLOPE = 0.5;

const nothingSaid = (verdict: ContactWord, sentence: string): ContactVerdict => ({
  verdict,
  share: null,
  low95: null,
  high95: null,
  bySpacing: [],
  sentence,
});

export interface TwoProbeContact {
  readonly contact: ContactVerdict;
  readonly seatings: readonly SeatingContact[];
  readonly follows: Follows | null;
}

/** Contact of a two-probe ladder: its share, and what readings along the line say of each seating and of what moves. */
export function contactOfTwoProbes(input: SoundingInput): TwoProbeContact {
  return { contact: shareOfTwoProbes(input), seatings: seatingsOf(input), follows: followsOf(input.pairs) };
}

function shareOfTwoProbes({ rungs }: SoundingInput): ContactVerdict {
  const all = rungs.map(({ spacingM, figureOhmM }) => ({
    spacingM,
    resistanceOhm: figureOhmM / twoProbeFactorM(spacingM),
  }));
  const stray = strayReading(all);
  const readings = all.filter((_, k) => k !== stray?.at);
  const told = stray
    ? `The reading at ${metres(all[stray.at]?.spacingM ?? 0)} is ${ratioText(stray.times)} times what the others make of it: read it again. It is left out here. `
    : '';
  const ladder = twoProbeLadder(readings);
  if (!ladder.ok) return nothingSaid('cannot_tell', told + ladder.sentence);
  const slope = logSlope(
    readings.map(({ spacingM, resistanceOhm }) => [Math.log(spacingM), Math.log(resistanceOhm * spacingM)]),
  );
  if (slope < GENTLEST_SLOPE) {
    return nothingSaid(
      'cannot_tell',
      `${told}R falls with spacing as two probes never make it (log-log slope of the figure ${slope.toFixed(2)}, about 1 expected): ask whether the hookup is really two-probe.`,
    );
  }
  const bySpacing = ladder.value.shares.map((share, k) => ({ spacingM: readings[k]?.spacingM ?? 0, ...share }));
  return shared(
    bySpacing,
    `${told}Two probes read mostly the contact of their two rods: the ground between them is the small rest.`,
  );
}

function logSlope(points: readonly (readonly [number, number])[]): number {
  const [x0, y0] = [0, 1].map((i) => points.reduce((sum, p) => sum + (p[i] as number), 0) / points.length) as [
    number,
    number,
  ];
  const along = points.reduce((sum, [x, y]) => sum + (x - x0) * (y - y0), 0);
  return along / points.reduce((sum, [x]) => sum + (x - x0) ** 2, 0);
}

/** More unknowns than this would take longer than they tell (choice). */
const MOST_SEATINGS = 250;
/** Repeatability of a two-probe reading on the same rods (common practice, no source). */
const PAIR_SIGMA = 0.03;

/** Contacts of the rods of this ladder from all readings of the line that share them. */
function seatingsOf({ pairs, chainageM }: SoundingInput): readonly SeatingContact[] {
  const named = pairs.flatMap(({ seatings: [p, q], spacingM, resistanceOhm }) =>
    p !== null && q !== null && p !== q && resistanceOhm > 0
      ? [{ seatings: [p, q] as const, ground: 'line', spacingM, resistanceOhm, sigmaOhm: PAIR_SIGMA * resistanceOhm }]
      : [],
  );
  const all = new Set(named.flatMap(({ seatings }) => seatings));
  if (named.length === 0 || all.size > MOST_SEATINGS) return [];
  const network = contactNetwork(named);
  if (!network.ok) return [];
  const own = new Set(
    pairs.filter(({ midpointM }) => Math.abs(midpointM - chainageM) < 0.05).flatMap(({ seatings }) => [...seatings]),
  );
  return network.value.seatings.filter(({ seating }) => own.has(seating));
}

function followsOf(pairs: readonly ProbePair[]): Follows | null {
  if (pairs.length === 0) return null;
  return followsWhat(
    pairs.map(({ spacingM, midpointM, probesM, seatings, resistanceOhm }) => ({
      spacingM,
      figure: resistanceOhm,
      midpointM,
      probesM,
      seatings,
      relativeSigma: null,
    })),
  );
}

/**
 * Contact in a ladder that should be free of it: against the reference where there is one, beside whatever else may change
 * the ladder; else as a part of R that no spacing changes, which ground that grows more resistive downwards can make as
 * well. Where nothing that was tried explains the ladder there is no share.
 */
export function contactOfLadder(input: SoundingInput, test: VoidTest | null, layersExplain: boolean): ContactVerdict {
  if (input.hookup !== 'pole_pole') {
    return nothingSaid('hardly_felt', 'Four electrodes hardly feel the contact of their rods: no share is estimated.');
  }
  if (test?.verdict === 'beyond_void') {
    return nothingSaid(
      'cannot_tell',
      'Nothing that was tried explains this ladder, so its share of contact cannot be told.',
    );
  }
  if (test && test.contactShares.length > 0) {
    const compared = input.rungs.filter(({ reference }) => reference !== null);
    const bySpacing = test.contactShares.map((share, k) => ({ spacingM: compared[k]?.spacingM ?? 0, ...share }));
    return shared(
      bySpacing,
      'Against the reference, whatever else changes this ladder: the range allows for uneven or thicker soil, a void or ground that conducts better.',
    );
  }
  const part = constantPart(
    input.rungs.map(({ layout, figureOhmM }) => {
      const factorM = geometricFactorM(nominalDistances(layout));
      return { factorM, resistanceOhm: figureOhmM / factorM };
    }),
  );
  if (!part.ok) return nothingSaid('cannot_tell', part.sentence);
  const bySpacing = part.value.shares.map((share, k) => ({ spacingM: input.rungs[k]?.spacingM ?? 0, ...share }));
  const found = shared(bySpacing, 'Taken from the part of R that no spacing changes, without a reference.');
  if (found.verdict === 'little_contact' || !layersExplain) return found;
  return {
    ...found,
    verdict: 'cannot_tell',
    sentence:
      'R has a part that no spacing changes; without a reference that can be contact, or ground that grows more resistive downwards.',
  };
}

function shared(bySpacing: readonly ContactShare[], sentence: string): ContactVerdict {
  const middle = bySpacing[bySpacing.length >> 1] as ContactShare;
  const { share, low95, high95 } = middle;
  const verdict =
    low95 >= MOST
      ? 'mostly_contact'
      : low95 > FOR_CERTAIN
        ? 'part_contact'
        : high95 < LITTLE
          ? 'little_contact'
          : 'cannot_tell';
  return { verdict, share, low95, high95, bySpacing, sentence };
}
