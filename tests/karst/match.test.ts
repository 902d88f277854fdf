import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { likelyDuplicates, typesAgree } from '../../src/karst/match';
import { editDistance, nameSimilarity } from '../../src/karst/names';
import { madeArea, madeFeature, placed } from './made-features';

describe('names', () => {
  it.each([
    ['Höhle am Ziegelbach', 'HOHLE AM ZIEGELBACH'],
    ['Blue Spring', 'spring, blue'],
    ['Провал Новый', 'провал  новый'],
    ['ﬁrst ｓｐｒｉｎｇ', 'first spring'],
    ['Große Quelle', 'Grosse Quelle'],
    ['白水洞', '白水洞 '],
  ])('“%s” and “%s” are one', (p, q) => {
    expect(nameSimilarity(p, q)).toBe(1);
  });

  it.each([
    ['Pit 12', 'Pit 13'],
    ['Sinkhole A-104', 'Sinkhole A-105'],
    ['Провал (1)', 'Провал (2)'],
  ])('“%s” and “%s” are two: a number parts them', (p, q) => {
    expect(nameSimilarity(p, q)).toBeLessThan(0.5);
  });

  it('tell letters with marks apart where they are letters of their own', () => {
    expect(nameSimilarity('й', 'и')).toBe(0);
    expect(nameSimilarity('Pit 007', 'Pit 7')).toBeGreaterThan(0.7);
  });

  it.each([
    // The textbook pairs of the Levenshtein distance.
    ['kitten', 'sitting', 3],
    ['saturday', 'sunday', 3],
    ['', 'abc', 3],
    ['gumbo', 'gambol', 2],
  ])('“%s” to “%s” takes %d edits', (p, q, edits) => {
    expect(editDistance([...p], [...q])).toBe(edits);
  });

  it('are as alike one way as the other', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), fc.string({ unit: 'grapheme' }), (p, q) => {
        const likeness = nameSimilarity(p, q);
        expect(likeness).toBe(nameSimilarity(q, p));
        expect(likeness).toBeGreaterThanOrEqual(0);
        expect(likeness).toBeLessThanOrEqual(1);
      }),
    );
  });
});

/** Some metres north of 10° E 45° N: a degree of latitude there is 111 132 m to a few metres. */
const north = (metres: number): number => 45 + metres / 111_132;
const pairsOf = (...features: readonly Parameters<typeof placed>[0][]) => likelyDuplicates(features.map(placed)).pairs;

describe('likely duplicates', () => {
  it('are those within the joint accuracy √(R² + R²), and not beyond', () => {
    const first = madeFeature('a', 10, 45, { name: 'Blue Spring', type: 'spring' });
    const second = (metres: number) => madeFeature('b', 10, north(metres), { name: 'Blue spring', type: 'spring' });
    expect(pairsOf(first, second(4.1))[0]?.grade).toBe('likely');
    expect(pairsOf(first, second(4.1))[0]?.withinM).toBeCloseTo(3 * Math.SQRT2, 6);
    expect(pairsOf(first, second(4.4))).toEqual([]);
    expect(likelyDuplicates([first, second(20)].map(placed), { extraM: 30 }).pairs.length).toBe(1);
  });

  it('know which types may be one thing', () => {
    expect(typesAgree('doline', 'sinkhole_cover_collapse')).toBe('compatible');
    expect(typesAgree('ponor', 'swallow_hole')).toBe('same');
    expect(typesAgree('spring', 'dry_valley')).toBeNull();
    expect(pairsOf(madeFeature('a', 10, 45, { type: 'spring' }), madeFeature('b', 10, 45, { type: 'shaft' }))).toEqual(
      [],
    );
  });

  it('of one list with two numbers are possible at most', () => {
    const said = { source: 'County list' };
    const [pair] = pairsOf(
      madeFeature('a', 10, 45, { ...said, external_id: '12' }),
      madeFeature('b', 10, north(1), { ...said, external_id: '13' }),
    );
    expect(pair?.grade).toBe('possible');
    expect(pair?.sentence).toContain('one source lists them as two');
  });

  it('take a point in an area for 0 m away, whatever its middle', () => {
    const area = madeArea('area', [
      [10, 45],
      [10.002, 45],
      [10.002, 45.002],
      [10, 45.002],
    ]);
    expect(pairsOf(area, madeFeature('p', 10.0002, 45.0002))[0]?.distanceM).toBe(0);
    const [near] = pairsOf(area, madeFeature('q', 10.001, north(-3)));
    expect(near?.distanceM).toBeCloseTo(3, 1);
    expect(pairsOf(area, madeFeature('r', 10.001, north(-20)))).toEqual([]);
  });

  it('are the same whatever the order, and none is listed twice', () => {
    const features = Array.from({ length: 30 }, (_, i) =>
      placed(madeFeature(`f${i}`, 10 + (i % 5) * 1e-5, north((i % 7) * 2), { name: `Pit ${i % 3}` })),
    );
    const forward = likelyDuplicates(features).pairs;
    expect(likelyDuplicates([...features].reverse()).pairs).toEqual(forward);
    expect(new Set(forward.map(({ ids }) => ids.join(' '))).size).toBe(forward.length);
    expect(forward.length).toBeGreaterThan(0);
  });

  it('in a heap on one place are told to be too many, and end', () => {
    const heap = Array.from({ length: 200 }, (_, i) => placed(madeFeature(`h${i}`, 10, 45)));
    const { pairs, crowded } = likelyDuplicates(heap);
    expect(crowded.length).toBe(200);
    expect(pairs.length).toBeLessThanOrEqual((200 * 24) / 1);
    expect(crowded[0]?.sentence).toContain('only the nearest 24');
  });
});
