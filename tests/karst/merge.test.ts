import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { joinFeatures } from '../../src/karst/feature-edits';
import { type KeeperFeatures, mergeFeatures } from '../../src/karst/merge';
import { commit } from '../../src/survey/commit';
import type { Feature } from '../../src/survey/survey';
import { emptySurvey } from '../helpers/made-survey';
import { madeFeature } from './made-features';

const keeper = (name: string, features: readonly Feature[]): KeeperFeatures => ({ keeper: name, features, grids: [] });
const revised = (count: number, at: string | null, by: string | null = 'Ada') => ({ count, at, by });

/** Versions of few features, with and without a number in a source, so that everything meets everything. */
const someFeature = fc
  .record({
    key: fc.constantFrom('a', 'b', 'c', 'd'),
    count: fc.integer({ min: 0, max: 2 }),
    at: fc.constantFrom(null, '2026-01-01T00:00:00Z', '2026-01-01T01:00:00+01:00', '2026-03-01T00:00:00Z'),
    name: fc.constantFrom('North', 'South', undefined),
    number: fc.constantFrom('1', '2', undefined),
    source: fc.constantFrom('County', 'county', 'Club', undefined),
    lat: fc.constantFrom(45, 45.1),
    retired: fc.boolean(),
  })
  .map(({ key, count, at, name, number, source, lat, retired }) =>
    madeFeature(key, 10, lat, {
      revised: revised(count, at),
      ...(name === undefined ? {} : { name }),
      ...(number === undefined ? {} : { external_id: number }),
      ...(source === undefined ? {} : { source }),
      ...(retired ? { retired } : {}),
    }),
  );
/** One version of each id in a file, as in a survey. */
const someFile = fc
  .array(someFeature, { maxLength: 6 })
  .map((features) => [...new Map(features.map((f) => [f.id, f])).values()]);

describe('joining keepers’ files', () => {
  it('gives the same whatever the order of the files and of their features', () => {
    fc.assert(
      fc.property(someFile, someFile, someFile, (p, q, r) => {
        const merged = mergeFeatures([keeper('p', p), keeper('q', q), keeper('r', r)]);
        const turned = mergeFeatures([keeper('r', [...r].reverse()), keeper('p', [...p].reverse()), keeper('q', q)]);
        expect(turned).toEqual(merged);
      }),
      { numRuns: 500 },
    );
  });

  it('changes nothing when done again, alone or with a file that was in it', () => {
    fc.assert(
      fc.property(someFile, someFile, (p, q) => {
        const merged = mergeFeatures([keeper('p', p), keeper('q', q)]).features;
        expect(mergeFeatures([keeper('m', merged)]).features).toEqual(merged);
        expect(mergeFeatures([keeper('m', merged), keeper('m again', merged)]).features).toEqual(merged);
        expect(mergeFeatures([keeper('m', merged), keeper('p', p)]).features).toEqual(merged);
        expect(mergeFeatures([keeper('q', q), keeper('m', merged), keeper('p', p)]).features).toEqual(merged);
      }),
      { numRuns: 500 },
    );
  });

  it('loses no id', () => {
    fc.assert(
      fc.property(someFile, someFile, (p, q) => {
        const merged = mergeFeatures([keeper('p', p), keeper('q', q)]).features;
        expect(new Set(merged.map(({ id }) => id))).toEqual(new Set([...p, ...q].map(({ id }) => id)));
      }),
    );
  });

  it('takes the version that was revised more often, then the later one', () => {
    const old = madeFeature('a', 10, 45, { name: 'Old', revised: revised(1, '2026-06-01T00:00:00Z') });
    const twice = madeFeature('a', 10, 45, { name: 'Twice', revised: revised(2, '2026-05-01T00:00:00Z') });
    const later = madeFeature('a', 10, 45, { name: 'Later', revised: revised(1, '2026-06-01T02:00:00+01:00', 'Ben') });
    expect(mergeFeatures([keeper('p', [old]), keeper('q', [twice])]).features[0]?.name).toBe('Twice');
    const both = mergeFeatures([keeper('p', [old]), keeper('q', [later])]);
    expect(both.features[0]?.name).toBe('Later');
    expect(both.conflicts).toMatchObject([{ code: 'same_count', differs: ['name'], keepers: ['q', 'p'] }]);
  });

  it('tells places that are farther apart than the accuracies allow', () => {
    const here = madeFeature('a', 10, 45, { revised: revised(2, '2026-05-01T00:00:00Z') });
    const there = madeFeature('a', 10, 45.01, { revised: revised(1, '2026-04-01T00:00:00Z') });
    const [conflict] = mergeFeatures([keeper('p', [here]), keeper('q', [there])]).conflicts;
    expect(conflict?.code).toBe('moved');
    // 0.01° of latitude at 45°: 1111.3 m on the ellipsoid (geographiclib).
    expect(conflict?.sentence).toContain('1111 m apart');
  });

  it('joins one number of one source under the smaller id and keeps where all came from', () => {
    const a = madeFeature('a', 10, 45, { external_id: 'K-7', source: 'County List', revised: revised(0, null, null) });
    const b = madeFeature('b', 10, 45, {
      external_id: 'K-7',
      source: 'county list',
      name: 'Checked',
      revised: revised(3, '2026-05-01T00:00:00Z'),
    });
    const { features, joined } = mergeFeatures([keeper('p', [a]), keeper('q', [b])]);
    const [small, large] = a.id < b.id ? [a.id, b.id] : [b.id, a.id];
    expect(joined).toEqual([{ id: large, into: small, externalId: 'K-7' }]);
    const kept = features.find(({ id }) => id === small);
    expect(kept).toMatchObject({ name: 'Checked' });
    expect(kept?.retired).toBeUndefined();
    expect(kept?.origins?.map(({ id }) => id).sort()).toEqual([small, large].sort());
    expect(features.find(({ id }) => id === large)).toMatchObject({ retired: true, merged_into: small });
  });

  it('does not take one number of two sources for one thing', () => {
    const a = madeFeature('a', 10, 45, { external_id: '1', source: 'County' });
    const b = madeFeature('b', 10, 45, { external_id: '1', source: 'Club' });
    const c = madeFeature('c', 10, 45, { external_id: '1' });
    expect(mergeFeatures([keeper('p', [a, c]), keeper('q', [b])]).joined).toEqual([]);
  });

  it('keeps what a person joined, and does not bring the joined one back', () => {
    const base = { ...emptySurvey(), features: [madeFeature('a', 10, 45), madeFeature('z', 10, 45)] };
    const [a, z] = base.features as [Feature, Feature];
    const change = joinFeatures(base, z.id, [a.id], { name: 'Both' }, { by: 'Ada', at: '2026-05-01T00:00:00Z' });
    if (!change.ok) throw new Error(change.sentence);
    const { survey, undo } = commit(base, change.value);
    expect(commit(survey, undo).survey.features).toEqual(base.features);
    const merged = mergeFeatures([keeper('old', base.features), keeper('new', survey.features)]).features;
    expect(merged.find(({ id }) => id === a.id)).toMatchObject({ retired: true, merged_into: z.id });
    expect(merged.find(({ id }) => id === z.id)).toMatchObject({ name: 'Both' });
  });
});
