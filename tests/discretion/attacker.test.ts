import type { Feature, FeatureCollection, Position } from 'geojson';
import { describe, expect, it } from 'vitest';
import type { Audience } from '../../src/discretion/audience';
import { gridCell } from '../../src/discretion/grid';
import { geodesicDistanceM } from '../../src/position/geodesic';
import { type MadeShare, madeShare, settledShare, textsOfShare } from './made-share';

/*
 * An attacker who has nothing but the files of a share, and knows how this program works: which squares places are shown
 * by, that surveyors begin lines at entrances, that zones and setbacks lie round what is there.
 */
type Place = { lon: number; lat: number };
interface Attack {
  readonly guess: Place;
  /** Side of the square that the share says the place is in; null where the share says nothing of it. */
  readonly gridM: number | null;
}

const positionsOf = (value: unknown): Position[] => {
  if (!Array.isArray(value)) return [];
  if (typeof value[0] === 'number') return [value as Position];
  return value.flatMap(positionsOf);
};
const placesOf = ({ geometry }: Feature): Place[] =>
  'coordinates' in geometry ? positionsOf(geometry.coordinates).map(([lon = 0, lat = 0]) => ({ lon, lat })) : [];
const meanOf = (places: readonly Place[]): Place => ({
  lon: places.reduce((sum, { lon }) => sum + lon, 0) / places.length,
  lat: places.reduce((sum, { lat }) => sum + lat, 0) / places.length,
});

function attack(texts: readonly string[]): Attack | null {
  const features = texts
    .map((text) => JSON.parse(text) as Partial<FeatureCollection>)
    .flatMap((layer) => layer.features ?? []);
  const shown = features.find(
    ({ properties }) => properties?.type === 'cave_entrance' && properties.position_uncertainty_95_m > 50,
  );
  // What points at an entrance: ends of lines, middles of zones and of setbacks, other features.
  const pointers = features
    .filter((each) => each !== shown)
    .flatMap((each) => {
      const places = placesOf(each);
      const { first, last } = { first: places[0], last: places[places.length - 1] };
      if (!first || !last) return [];
      if (each.properties?.verdict || each.properties?.distance_m) return [meanOf(places)];
      return each.geometry.type === 'MultiLineString' ? [first, last] : each.properties?.type ? [first] : [];
    });
  const cell = shown && placesOf(shown)[0];
  if (!cell) return pointers[0] ? { guess: pointers[0], gridM: null } : null;
  const reachM = shown?.properties?.position_uncertainty_95_m as number;
  const within = pointers.filter((place) => geodesicDistanceM(place, cell) < reachM);
  // Where several things point to one place, or else the middle of the square.
  const best = within
    .map((place) => ({ place, votes: within.filter((other) => geodesicDistanceM(place, other) < 40).length }))
    .sort((p, q) => q.votes - p.votes)[0];
  return { guess: best?.place ?? cell, gridM: reachM };
}

/** In how many shares an attacker comes within so much of the truth, and of how many. */
function hits(shares: readonly (readonly [MadeShare, Attack | null])[], withinM: (share: MadeShare) => number) {
  const attacked = shares.filter(([, found]) => found !== null);
  const near = attacked.filter(
    ([share, found]) => geodesicDistanceM(found?.guess as Place, share.truth) < withinM(share),
  );
  return { hits: near.length, tries: attacked.length };
}

describe('an attacker with the files of 1,000 shares', () => {
  const audiences: readonly Audience[] = ['planner', 'public'];
  const careful = Array.from({ length: 1000 }, (_, seed) => {
    const share = madeShare(seed);
    const audience = audiences[seed % 2] as Audience;
    const first = settledShare(share.survey, audience, 'withhold');
    // Every third is shared a second time, to the other audience, and both shares are attacked together.
    const again =
      seed % 3 === 0
        ? [settledShare(share.survey, audiences[(seed + 1) % 2] as Audience, 'withhold', [first.remembered]).disclosed]
        : [];
    const texts = [first.disclosed, ...again].flatMap(textsOfShare);
    return { share, leaks: first.leaks, texts, found: attack(texts) };
  });

  it('does no better than to guess in the square that the share states', () => {
    const generalised = careful.filter(({ found }) => found?.gridM);
    expect(generalised.length).toBeGreaterThan(500);
    // A disc of a fifth of the square's side is π/25 = 12.6 % of it; 15.7 % is beyond what 1 in 1,000 such trials gives
    // among 700 (binomial, normal approximation: 12.6 + 3.1 × √(12.6 × 87.4 / 700) = 16.4).
    const { hits: near, tries } = hits(
      generalised.map(({ share, found }) => [share, found] as const),
      ({ gridM }) => gridM / 5,
    );
    const bound = Math.PI / 25 + 3.1 * Math.sqrt(((Math.PI / 25) * (1 - Math.PI / 25)) / tries);
    // And the middle of the square is as good a guess as it ought to be: the truth lies anywhere in it.
    const middle = generalised.filter(
      ({ share }) => geodesicDistanceM(gridCell(share.truth, share.gridM).middle, share.truth) < share.gridM / 5,
    );
    expect(Math.abs(middle.length / tries - Math.PI / 25)).toBeLessThan(bound - Math.PI / 25);
    console.info(
      `within a fifth of the square: ${near} of ${tries}; its middle ${middle.length}, by area ${((tries * Math.PI) / 25).toFixed(0)}`,
    );
    expect(near / tries).toBeLessThan(bound);
  });

  it('finds no coordinate of anything within the radius that the class protects, but by the chance of the square itself', () => {
    for (const { share, texts } of careful) {
      const places = texts
        .map((text) => JSON.parse(text) as Partial<FeatureCollection>)
        .flatMap((layer) => layer.features ?? [])
        .filter(({ properties }) => properties?.type !== 'cave_entrance')
        .flatMap(placesOf);
      const nearest = Math.min(...places.map((place) => geodesicDistanceM(place, share.truth)));
      expect(nearest).toBeGreaterThan(share.radiusM - 30);
    }
  });

  it('reads neither name nor number nor person', () => {
    const telling = careful.filter(({ texts }) => /bluewhistle|Ann Example|10:15/i.test(texts.join(' ')));
    expect(telling.map(({ share }) => share.survey.site.name)).toEqual([]);
  });

  it('had leaks to hope for in every one of them', () => {
    expect(careful.every(({ leaks }) => leaks > 0)).toBe(true);
  });

  it('finds the place in most shares when the leaks are accepted instead', () => {
    const careless = Array.from({ length: 100 }, (_, seed) => {
      const share = madeShare(seed);
      return [share, attack(textsOfShare(settledShare(share.survey, 'planner', 'accept').disclosed))] as const;
    });
    const { hits: near, tries } = hits(careless, ({ gridM }) => gridM / 5);
    expect(near / tries).toBeGreaterThan(0.8);
  });
});
