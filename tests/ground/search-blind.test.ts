import { describe, expect, it } from 'vitest';
import { benchVoidSearch } from '../bench/void-search.bench';

/*
 * Thirty lines without a void and thirty with one, by the generator of tests/helpers/made-search.ts (relief of 10 to 30 %,
 * 3 % noise, passages of radius 1 to 1.5 m at 1.5 to 3 radii); `npm run bench` does six hundred and three hundred. The
 * limits are what a search that just meets its bars would break once in a hundred such tests.
 */
describe('blind lines', { timeout: 180_000 }, () => {
  const blind = benchVoidSearch(30, 30, 4_000_000, false);

  it('without a void have a candidate as seldom as one in twenty, and a void-like one more seldom', () => {
    // 5 % of 30: more than 5 come with a chance of 0.3 % (binomial).
    expect(blind.falseAlarms.hits).toBeLessThanOrEqual(5);
    expect(blind.falseVoidLike.hits).toBeLessThanOrEqual(2);
  });

  it('with a passage are found within 1.5 m, in ranges that hold the truth', () => {
    // 80 % of 30: fewer than 18 come with a chance of 0.3 %.
    expect(blind.found.hits).toBeGreaterThanOrEqual(18);
    // 90 % of at least 18: fewer than three in four come with a chance of 1 %.
    expect(blind.depthCovered.hits).toBeGreaterThanOrEqual(0.75 * blind.found.hits);
    expect(blind.foundVoidLike.hits).toBeGreaterThanOrEqual(15);
  });
});
