import { describe, expect, it } from 'vitest';
import type { Audience } from '../../src/discretion/audience';
import { gridCell } from '../../src/discretion/grid';
import { geodesicDistanceM } from '../../src/position/geodesic';
import {
  type Attack,
  circles,
  type Evidence,
  evidenceIn,
  featuresIn,
  middle,
  placesOf,
  votes,
  whatIsLeft,
} from './attacks';
import { everything, type MadeShare, madeShare, settledShare, textsOfShare } from './made-share';

/** A disc of a fifth of a square's side is this part of it. */
const BY_AREA = Math.PI / 25;
/** Half of a square lies within this of its middle, in sides: a disc of area 1/2. */
const MEDIAN_SIDES = Math.sqrt(0.5 / Math.PI);
/** One in a thousand such trials goes beyond (normal approximation of the binomial). */
const SIGMAS = 3.1;
const bound = (chance: number, tries: number): number => chance + SIGMAS * Math.sqrt((chance * (1 - chance)) / tries);

interface Attacked {
  readonly share: MadeShare;
  readonly evidence: Evidence;
  /** Side of the smallest square that the shares show the entrance by. */
  readonly sideM: number;
}

const ATTACKS: Readonly<Record<string, (attacked: Attacked) => Attack>> = {
  'the middle of the square': () => middle,
  'what most things point to': () => votes,
  'circles by told distances': () => circles,
  'what is left of the square': ({ share, sideM }) => whatIsLeft(share.radiusM + 5, sideM),
};

function attacked(share: MadeShare, texts: readonly string[]): Attacked {
  const evidence = evidenceIn(texts);
  const reachM = Math.min(...evidence.squares.map((square) => square.reachM));
  const [sideM = share.gridM] = [1, 1.5]
    .map((times) => times * share.gridM)
    .filter((side) => Math.abs(gridCell(share.truth, side).reachM + 5 - reachM) < 1);
  return { share, evidence, sideM };
}

/** In how many shares an attack comes within a fifth of the side of the truth, and how far off half of its guesses are. */
function result(all: readonly Attacked[], attackOf: (attacked: Attacked) => Attack) {
  const errors = all.flatMap((each) => {
    const guess = attackOf(each)(each.evidence);
    return guess ? [geodesicDistanceM(guess, each.share.truth) / each.sideM] : [];
  });
  const sorted = [...errors].sort((p, q) => p - q);
  return {
    tries: errors.length,
    near: errors.filter((error) => error < 0.2).length / errors.length,
    medianSides: sorted[Math.floor(sorted.length / 2)] ?? Number.NaN,
    within: errors.filter((error) => error < MEDIAN_SIDES).length / errors.length,
  };
}
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

describe('an attacker with the files of 1,000 shares', () => {
  const audiences: readonly Audience[] = ['planner', 'public'];
  const shares = Array.from({ length: 1000 }, (_, seed) => {
    const share = madeShare(seed);
    const first = settledShare(share.survey, audiences[seed % 2] as Audience, 'withhold');
    // Every second is shared again, every other time to the other audience, and both shares are attacked together.
    const again =
      seed % 2 === 0
        ? [
            settledShare(
              share.survey,
              audiences[(seed / 2) % 2] as Audience,
              'withhold',
              [first.remembered],
              '2027-01-10',
            ).disclosed,
          ]
        : [];
    const disclosed = [first.disclosed, ...again];
    return { share, leaks: first.leaks, disclosed };
  });
  const texts = shares.map(({ disclosed }) => disclosed.flatMap(textsOfShare));
  const all = shares.map(({ share }, i) => attacked(share, texts[i] ?? []));
  const generalised = all.filter(({ evidence }) => evidence.squares.length > 0);

  it.each(Object.entries(ATTACKS))(
    'does no better by %s than to guess in the square that is stated',
    (name, attackOf) => {
      const { tries, near, medianSides, within } = result(generalised, attackOf);
      console.info(
        `${name}: ${tries} shares; within a fifth of the side ${percent(near)} (guessing ${percent(BY_AREA)}, bound ${percent(bound(BY_AREA, tries))}); median error ${medianSides.toFixed(3)} sides (guessing ${MEDIAN_SIDES.toFixed(3)})`,
      );
      expect(tries).toBeGreaterThan(400);
      expect(near).toBeLessThan(bound(BY_AREA, tries));
      expect(within).toBeLessThan(bound(0.5, tries));
    },
  );

  it('finds no coordinate within the radius that the class protects', () => {
    const nearest = shares.map(({ share }, i) => {
      const places = featuresIn(texts[i] ?? [])
        .filter(({ properties }) => properties?.type !== 'cave_entrance' && !properties?.half_width_m)
        // A setback reaches out from a feature that is far enough itself.
        .filter(({ properties }) => properties?.distance_m === undefined)
        .flatMap(placesOf);
      return Math.min(...places.map((place) => geodesicDistanceM(place, share.truth))) - share.radiusM;
    });
    expect(Math.min(...nearest)).toBeGreaterThan(0);
  });

  it('reads neither name nor number nor person nor hour, in what is written or in what writers get', () => {
    const telling = texts.filter((each) => /blue\s*whist?le|Ann Example|10:15/i.test(each.join(' ')));
    expect(telling.length).toBe(0);
  });

  it('had leaks to hope for in every one of them', () => {
    expect(shares.every(({ leaks }) => leaks > 0)).toBe(true);
  });
});

describe('the same attacker with a careless share', () => {
  const careless = Array.from({ length: 100 }, (_, seed) => madeShare(seed));

  it('finds the place by what points to it where the leaks were accepted', () => {
    const all = careless.map((share) =>
      attacked(share, textsOfShare(settledShare(share.survey, 'planner', 'accept').disclosed)),
    );
    const { near, medianSides } = result(all, () => votes);
    console.info(`leaks accepted: within a fifth ${percent(near)}, median ${medianSides.toFixed(3)} sides`);
    expect(near).toBeGreaterThan(0.8);
  });

  it('finds it by the circles of the distances that a surveyor’s own copy tells', () => {
    const errors = careless.flatMap((share) => {
      const { ranges } = evidenceIn(textsOfShare(everything(share.survey)));
      const guess = circles({ squares: [], pointers: [], shown: [], ranges });
      return guess ? [geodesicDistanceM(guess, share.truth)] : [];
    });
    expect(errors.length).toBeGreaterThan(20);
    expect(errors.filter((errorM) => errorM < 20).length / errors.length).toBeGreaterThan(0.8);
  });

  it('finds it in the rest of the square where the rest is small', () => {
    // Lines all over the square but about the entrance: what the check for few places is there for.
    const left = whatIsLeft(35, 200);
    const truth = { lon: 10, lat: 47 };
    const cell = gridCell(truth, 200);
    const shown = Array.from({ length: 21 }, (_, i) => {
      const lat = cell.middle.lat + (i - 10) * 0.00009;
      return Array.from({ length: 31 }, (_, k) => ({ lon: cell.middle.lon + (k - 15) * 0.00009, lat })).filter(
        (place) => geodesicDistanceM(place, truth) > 50,
      );
    }).flatMap((places) => places.map((place) => [place]));
    const guess = left({ squares: [cell], pointers: [], shown, ranges: [] });
    expect(geodesicDistanceM(guess ?? cell.middle, truth)).toBeLessThan(25);
  });
});
