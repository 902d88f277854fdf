import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import type { Audience } from '../../src/discretion/audience';
import { type DiscretionClass, readDiscretionClasses, showingFor } from '../../src/discretion/classes';
import { discloseTo, type Settled } from '../../src/discretion/disclose-to';
import { rememberShare, sayDiscretionClasses } from '../../src/discretion/discretion-edits';
import { earlierSharesOf } from '../../src/discretion/earlier-share';
import { gridCell } from '../../src/discretion/grid';
import { geodesicDistanceM } from '../../src/position/geodesic';
import { commit } from '../../src/survey/commit';
import type { Feature, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading } from '../helpers/made-survey';
import { everything, feature, madeShare, settledShare } from './made-share';

const BATS: DiscretionClass = {
  name: 'bats',
  keeper: { show: 'exact' },
  planner: { show: 'generalised', grid_m: 500 },
  public: { show: 'withheld' },
  protect_radius_m: 40,
  cites: 'our agreement of 2026',
};
const AUTHOR = { at: '2026-06-01T12:00:00Z', by: 'Ann' };

function shared(
  survey: Survey,
  audience: Audience,
  settled: readonly Settled[] = [],
  earlier = earlierSharesOf(survey),
) {
  const outcome = discloseTo(survey, appraise(survey), audience, { settled, earlier });
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}
const leaksIn = (survey: Survey, audience: Audience = 'planner', earlier = earlierSharesOf(survey)) => {
  const outcome = shared(survey, audience, [], earlier);
  return outcome.kind === 'leaks' ? outcome.leaks : [];
};
const survey = (features: readonly Feature[], more: Partial<Survey> = {}): Survey => {
  const base = emptySurvey();
  return { ...base, site: { ...base.site, discretion_classes: [{ ...BATS }] }, features, ...more };
};
const cave = (said: Partial<Feature> = {}) =>
  feature('cave', 10, 47, { type: 'cave_entrance', name: 'Bluewhistle Cave', confidentiality: 'bats', ...said });

describe('the square that a place is shown by', () => {
  it.each([
    [0.00001, 0.00001],
    [10.123, 47.456],
    [-179.9999, -16.5],
    [25, 84.9],
    [-70.3, -33.1],
  ])('at %d, %d holds it, is the same for every place in it, and as large as it says', (lon, lat) => {
    for (const gridM of [50, 200, 1000]) {
      const cell = gridCell({ lon, lat }, gridM);
      expect(geodesicDistanceM(cell.middle, { lon, lat })).toBeLessThanOrEqual(cell.reachM + 1e-6);
      // Half the diagonal of a square of that side, a little more where the row narrows.
      expect(cell.reachM / ((gridM * Math.SQRT2) / 2)).toBeGreaterThan(0.99);
      expect(cell.reachM / ((gridM * Math.SQRT2) / 2)).toBeLessThan(1.05);
      expect(gridCell(cell.middle, gridM)).toMatchObject({ row: cell.row, column: cell.column });
    }
  });
});

describe('who sees what of a feature', () => {
  const show = (said: Partial<Feature>, audience: Audience) => showingFor(cave(said), audience, [BATS]).showing.show;

  it('is what its class says', () => {
    expect((['surveyor', 'keeper', 'planner', 'public'] as const).map((audience) => show({}, audience))).toEqual([
      ...['exact', 'exact', 'generalised', 'withheld'],
    ]);
  });

  it('is nothing for outsiders when the owner said no, and when an opening has no class', () => {
    const refused = { owner_consent: { given: 'no' as const } };
    expect([show(refused, 'keeper'), show(refused, 'planner')]).toEqual(['exact', 'withheld']);
    expect([show({ confidentiality: null }, 'keeper'), show({ confidentiality: null }, 'public')]).toEqual([
      ...['exact', 'withheld'],
    ]);
    expect(show({ confidentiality: null, type: 'spring' }, 'public')).toBe('exact');
  });

  it('is nothing for anybody else when nobody has said what its class means', () => {
    expect([show({ confidentiality: 'secret' }, 'surveyor'), show({ confidentiality: 'secret' }, 'keeper')]).toEqual([
      ...['exact', 'withheld'],
    ]);
  });

  it('is refused with a sentence where the classes cannot be read', () => {
    expect(readDiscretionClasses([{ ...BATS, planner: { show: 'generalised', grid_m: 1 } }])).toMatchObject({
      code: 'not_a_class',
    });
    expect(readDiscretionClasses([BATS, BATS])).toMatchObject({ code: 'two_classes' });
    expect(sayDiscretionClasses(survey([]), [BATS, BATS], AUTHOR)).toMatchObject({ code: 'two_classes' });
  });
});

describe('a generalised feature', () => {
  const outcome = shared(survey([cave({ depth_m: 17, note: 'behind the barn', external_id: 'K-17' })]), 'planner');
  if (outcome.kind !== 'disclosed') throw new Error('leaks');
  const [shown] = outcome.disclosed.survey.features;

  it('keeps its kind, and neither name, number, note, size nor id', () => {
    expect(shown?.type).toBe('cave_entrance');
    expect(JSON.stringify(shown)).not.toMatch(/Bluewhistle|barn|K-17|17,|Ann Example/);
    expect(shown?.id).not.toBe(cave().id);
  });

  it('lies within its uncertainty of the truth, at the middle of its square', () => {
    const [position] = shown?.positions ?? [];
    const off = geodesicDistanceM({ lon: position?.x ?? 0, lat: position?.y ?? 0 }, { lon: 10, lat: 47 });
    expect(off).toBeLessThan(position?.accuracy_m ?? 0);
    expect(gridCell({ lon: 10, lat: 47 }, 500).middle).toEqual({ lon: position?.x, lat: position?.y });
  });

  it('is told of in the share, by its class and what that cites', () => {
    expect(outcome.disclosed.withheld).toContainEqual({
      ...{
        subject: 'feature',
        count: 1,
        how: 'generalised',
        gridM: 500,
        rule: 'bats',
        reason: 'our agreement of 2026',
      },
    });
  });
});

describe('what would give a place away', () => {
  const beside = madeLine('A', [
    { chainageM: 0, lon: 10.0002, lat: 47 },
    { chainageM: 50, lon: 10.0009, lat: 47 },
  ]);
  const far = madeLine('B', [
    { chainageM: 0, lon: 10.01, lat: 47 },
    { chainageM: 50, lon: 10.0107, lat: 47 },
  ]);
  const kinds = (made: Survey, audience?: Audience) => leaksIn(made, audience).map(({ kind }) => kind);

  it('is a line that begins there, and not one far off', () => {
    const leaks = leaksIn(survey([cave()], { lines: [beside, far] }));
    expect(leaks.map(({ kind, sentence }) => [kind, sentence])).toEqual([
      ['line_near', expect.stringContaining('Line A begins or ends 15.2 m from “Bluewhistle Cave”')],
    ]);
  });

  it('is a remote electrode, a feature beside it, a name in a text, the origin of a grid', () => {
    const remote = madeOuting('day', { remotes: [{ role: 'B', position: { x: 10.0001, y: 47, crs: 'EPSG:4326' } }] });
    expect(kinds(survey([cave()], { outings: [remote] }))).toEqual(['remote_near']);
    expect(kinds(survey([cave(), feature('sink', 10.0002, 47)]))).toEqual(['feature_near']);
    expect(kinds(survey([cave(), feature('far', 10.02, 47, { name: 'Doline by the Bluewhistle' })]))).toEqual([
      'named',
    ]);
    expect(kinds(survey([cave(), feature('far', 10.02, 47, { name: 'Cave spring' })]))).toEqual([]);
    const base = survey([{ ...cave(), confidentiality: 'none of ours' }]);
    const grid = { name: 'tape', unit: 'm' as const, origin_lon: 10, origin_lat: 47, bearing_deg: 0 };
    expect(kinds({ ...base, site: { ...base.site, local_grids: [grid] } }, 'keeper')).toEqual(['grid_origin_near']);
  });

  it('stops the share until each is settled, and nothing is accepted without a reason', () => {
    const made = survey([cave()], {
      lines: [beside, far],
      readings: [madeReading(beside, { midpoint_m: 10, spacing_m: 2, value: 100, hookup: 'pole_pole' })],
    });
    const [leak] = leaksIn(made);
    if (!leak) throw new Error('no leak');
    expect(
      discloseTo(made, appraise(made), 'planner', {
        settled: [{ leak: leak.id, decision: 'accept', why: ' ' }],
        earlier: [],
      }),
    ).toMatchObject({
      code: 'no_reason',
    });
    const cut = shared(made, 'planner', [{ leak: leak.id, decision: 'withhold', why: '' }]);
    if (cut.kind !== 'disclosed') throw new Error('still leaks');
    expect(cut.disclosed.survey.lines.map(({ name }) => name)).toEqual(['B']);
    expect(cut.disclosed.findings.lines.map(({ name }) => name)).toEqual(['B']);
    expect(cut.disclosed.survey.readings).toEqual([]);
    const accepted = shared(made, 'planner', [{ leak: leak.id, decision: 'accept', why: 'the road is known' }]);
    if (accepted.kind !== 'disclosed') throw new Error('still leaks');
    expect(accepted.disclosed.withheld).toContainEqual(
      expect.objectContaining({ how: 'accepted', reason: 'the road is known' }),
    );
  });

  it('is an earlier share by another square, and none by the same', () => {
    const made = survey([cave()]);
    const first = settledShare(made, 'planner', 'withhold').remembered;
    const remembered = commit(made, rememberShare(made, first, AUTHOR)).survey;
    expect(kinds(remembered)).toEqual([]);
    const coarser = sayDiscretionClasses(
      remembered,
      [{ ...BATS, planner: { show: 'generalised', grid_m: 300 } }],
      AUTHOR,
    );
    if (!coarser.ok) throw new Error(coarser.sentence);
    expect(kinds(commit(remembered, coarser.value).survey)).toEqual(['earlier_share']);
    const exact = settledShare(made, 'keeper', 'withhold').remembered;
    expect(kinds(commit(made, rememberShare(made, exact, AUTHOR)).survey)).toEqual(['earlier_share']);
  });
});

describe('outsiders', () => {
  const { survey: made } = madeShare(4, false);
  const { disclosed } = settledShare({ ...made, features: [] }, 'public', 'withhold');

  it('get no people, notes, serials, times of day, photos, settlements, nor who entered what', () => {
    expect(JSON.stringify(disclosed.survey)).not.toMatch(/Ann Example|10:15|T10:/);
    expect([disclosed.survey.photos, disclosed.survey.settlements]).toEqual([[], []]);
    expect(new Set(disclosed.survey.readings.map(({ time }) => time))).toEqual(new Set(['2026-05-02']));
  });

  it('get the findings of four electrodes as they are, and of two probes no grade', () => {
    const graded = everything(made).findings.lines.flatMap(({ midpoints }) => midpoints.map(({ grade }) => grade));
    expect(disclosed.findings.lines.flatMap(({ midpoints }) => midpoints.map(({ grade }) => grade))).toEqual(graded);
    const twoProbe = {
      ...made,
      features: [],
      readings: made.readings.map((reading) => ({ ...reading, hookup: 'two_probe' as const })),
    };
    const hints = settledShare(twoProbe, 'planner', 'withhold').disclosed.findings.lines.flatMap(
      ({ midpoints }) => midpoints,
    );
    expect(new Set(hints.map(({ grade }) => grade))).toEqual(new Set([null]));
  });
});
