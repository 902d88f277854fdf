import { describe, expect, it } from 'vitest';
import type { ZoneFinding } from '../../src/findings';
import { DEFINITIONS } from '../../src/karst/definitions';
import {
  addFeature,
  correctFeature,
  type NewFeature,
  restoreFeature,
  retireFeature,
  sendZone,
} from '../../src/karst/feature-edits';
import { placeFeature } from '../../src/karst/placed';
import { type Change, commit } from '../../src/survey/commit';
import { FEATURE_TYPES, featureTypeAtStartOf, featureTypeOf } from '../../src/survey/feature-type';
import type { Outcome } from '../../src/survey/outcome';
import type { Survey } from '../../src/survey/survey';
import { readSurveyDocument } from '../../src/survey/versions';
import { emptySurvey } from '../helpers/made-survey';

const ada = { by: 'Ada', at: '2026-05-01T10:00:00Z' };
const POINT: NewFeature = { type: 'spring', shape: 'point', positions: [{ x: 10, y: 45, crs: 'EPSG:4326' }] };

function applied(survey: Survey, change: Outcome<Change>): Survey {
  if (!change.ok) throw new Error(change.sentence);
  return commit(survey, change.value).survey;
}

describe('types of features', () => {
  it('each have a meaning and say where it is from', () => {
    for (const type of FEATURE_TYPES) {
      expect(DEFINITIONS[type].meaning.length).toBeGreaterThan(20);
      expect(DEFINITIONS[type].source).toMatch(/EPA\/600\/R-02\/003|WSP|our wording/);
    }
  });

  it.each([
    ['doline', 'sinkhole_unknown'],
    ['Sinkhole', 'sinkhole_unknown'],
    ['cover-collapse sinkhole', 'sinkhole_cover_collapse'],
    ['PONOR', 'swallow_hole'],
    ['swallet', 'swallow_hole'],
    ['Воронка', 'sinkhole_unknown'],
    ['Spring', 'spring'],
    ['cave_entrance', 'cave_entrance'],
  ])('“%s” is %s', (word, type) => {
    expect(featureTypeOf(word)).toBe(type);
  });

  it('are not guessed from words that are none', () => {
    expect(featureTypeOf('Church')).toBeNull();
    expect(featureTypeOf('Springfield')).toBeNull();
    expect(featureTypeAtStartOf('Воронка чашеобразная диаметром 35 м')).toBe('sinkhole_unknown');
    expect(featureTypeAtStartOf('The spring')).toBeNull();
  });
});

describe('edits of features', () => {
  it('add, correct, take out and restore, each undone by its own undo', () => {
    const empty = emptySurvey();
    const added = applied(empty, addFeature(empty, POINT, 'seed', ada));
    const [feature] = added.features;
    if (!feature) throw new Error('no feature');
    expect(feature).toMatchObject({ status: 'reported', entered_at: ada.at, revised: { by: 'Ada', count: 0 } });
    const corrected = applied(added, correctFeature(added, feature.id, { type: 'estavelle', long_axis_deg: 40 }, ada));
    expect(corrected.features[0]).toMatchObject({ type: 'estavelle', long_axis_deg: 40, revised: { count: 1 } });
    const retired = applied(corrected, retireFeature(corrected, feature.id, ada));
    expect(retired.features).toHaveLength(1);
    expect(retired.features[0]?.retired).toBe(true);
    const restored = applied(retired, restoreFeature(retired, feature.id, ada));
    expect(restored.features[0]).toMatchObject({ retired: false, type: 'estavelle' });
    const change = retireFeature(corrected, feature.id, ada);
    if (!change.ok) throw new Error(change.sentence);
    const { survey, undo } = commit(corrected, change.value);
    expect(commit(survey, undo).survey).toEqual(corrected);
  });

  it('refuse what is no type, no shape, and an anomaly that was “checked”', () => {
    const empty = emptySurvey();
    const refused = (said: NewFeature) => {
      const change = addFeature(empty, said, 's', ada);
      return change.ok ? null : change.code;
    };
    expect(refused({ ...POINT, type: 'church' })).toBe('no_such_type');
    expect(refused({ ...POINT, positions: [] })).toBe('wrong_shape');
    expect(refused({ ...POINT, shape: 'area' })).toBe('wrong_shape');
    expect(refused({ ...POINT, type: 'geophysical_anomaly', status: 'field_checked' })).toBe('anomaly_not_checkable');
    expect(refused({ ...POINT, positions: [{ x: Number.NaN, y: 1, crs: 'EPSG:4326' }] })).toBe('wrong_shape');
  });

  it('send a zone once: as an anomaly, unverified, with its evidence; again it is the same feature', () => {
    const empty = emptySurvey();
    const zone = {
      key: 'z1',
      name: 'Zone 1',
      verdict: 'void_like',
      basis: 'search',
      readingCount: 40,
      lines: [],
      outings: [],
      doubts: [],
    } as unknown as ZoneFinding;
    const ring = [
      [10, 45],
      [10.001, 45],
      [10.001, 45.001],
      [10, 45],
    ] as const;
    const once = applied(empty, sendZone(empty, zone, [[ring]], ada));
    expect(once.features[0]).toMatchObject({
      type: 'geophysical_anomaly',
      status: 'reported',
      shape: 'area',
      links: [{ kind: 'zone', target: 'z1' }],
      evidence: { verdict: 'void_like', readings: 40 },
    });
    const twice = applied(once, sendZone(once, zone, [[ring]], ada));
    expect(twice.features).toHaveLength(1);
    expect(twice.features[0]?.revised.count).toBe(1);
    expect(sendZone(empty, zone, [], ada).ok).toBe(false);
  });

  it('make surveys that are read again, with everything that was said', () => {
    const empty = emptySurvey();
    const full = applied(
      empty,
      addFeature(
        empty,
        {
          ...POINT,
          name: 'Blue',
          length_m: 12,
          width_m: 8,
          depth_m: 3,
          long_axis_deg: 170,
          water: 'seasonal',
          confidentiality: 'protected',
          owner_consent: { given: 'no', by: 'owner', date: '2026-01-01' },
          links: [{ kind: 'photo', target: 'p1' }],
        },
        's',
        ada,
      ),
    );
    const read = readSurveyDocument(JSON.parse(JSON.stringify(full)));
    expect(read.ok && read.value.features).toEqual(full.features);
    const old = { ...POINT, id: 'feature-old', revised: { at: null, by: null, count: 0 }, status: 'reported' };
    expect(readSurveyDocument({ ...empty, features: [old] }).ok).toBe(true);
  });
});

describe('places of features', () => {
  it('are the middle of a line by its length and the centroid of an area less its holes', () => {
    const position = ([x, y]: readonly [number, number]) => ({ x, y, crs: 'EPSG:4326' });
    const base = {
      id: 'feature-x' as never,
      revised: { at: null, by: null, count: 0 },
      type: 'spring',
      status: 'reported' as const,
    };
    const line = placeFeature(
      {
        ...base,
        shape: 'line',
        positions: (
          [
            [10, 45],
            [10.01, 45],
            [10.04, 45],
          ] as const
        ).map(position),
      },
      [],
    );
    expect('place' in line && line.place.lon).toBeCloseTo(10.02, 9);
    const square = [
      [0, 0],
      [4, 0],
      [4, 4],
      [0, 4],
      [0, 0],
    ] as const;
    const hole = [
      [2, 0.0],
      [4, 0],
      [4, 4],
      [2, 4],
      [2, 0],
    ] as const;
    const at = [...square, ...hole].map(([x, y]) => [10 + x / 1e4, y / 1e4] as const);
    const area = placeFeature(
      { ...base, shape: 'area', positions: at.map(position), parts: [{ from: 0 }, { from: 5, hole: true }] },
      [],
    );
    // The right half is cut out, so the centroid is that of the left half: a quarter of the way across.
    expect('place' in area && (area.place.lon - 10) * 1e4).toBeCloseTo(1, 6);
    expect('place' in area && area.place.lat * 1e4).toBeCloseTo(2, 6);
  });
});
