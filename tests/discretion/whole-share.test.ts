import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { discloseTo, type Settled } from '../../src/discretion/disclose-to';
import type { EarlierShare } from '../../src/discretion/earlier-share';
import type { Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine } from '../helpers/made-survey';
import { feature, settledShare } from './made-share';

const CLASS = {
  name: 'bats',
  keeper: { show: 'withheld' },
  planner: { show: 'generalised', grid_m: 500 },
  public: { show: 'withheld' },
  protect_radius_m: 40,
};
const CAVE = feature('cave', 10, 47, { type: 'cave_entrance', name: 'Bluewhistle Cave', confidentiality: 'bats' });
const base = emptySurvey();
const survey = (more: Partial<Survey> = {}): Survey => ({
  ...base,
  features: [CAVE],
  ...more,
  site: { ...base.site, ...more.site, discretion_classes: [CLASS] },
});
function kindsIn(made: Survey, settled: readonly Settled[] = [], earlier: readonly EarlierShare[] = []): string[] {
  const outcome = discloseTo(made, appraise(made), 'keeper', { settled, earlier });
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value.kind === 'leaks' ? outcome.value.leaks.map(({ kind }) => kind) : [];
}
const noted = (notes: string): Survey => survey({ site: { ...base.site, notes } });

describe('a text', () => {
  it.each([
    'met at the Bluewistle hole',
    'bluewhistle-cave, 2 pm',
    'park at 47.00010, 10.00012',
    '10,0001 / 47,0001',
    `47° 0' 0.2" N 10° 0' 0.3" E`,
  ])('that says “%s” tells, and is taken out when that is withheld', (notes) => {
    const made = noted(notes);
    expect(kindsIn(made)).toEqual(['named']);
    expect(settledShare(made, 'keeper', 'withhold').disclosed.survey.site.notes).not.toBe(notes);
    expect(settledShare(made, 'keeper', 'accept').disclosed.survey.site.notes).toBe(notes);
  });

  it.each(['a blue car whistled', 'park at 47.1001, 10.1002', 'cave of the upper spring'])(
    'that says “%s” does not',
    (notes) => {
      expect(kindsIn(noted(notes))).toEqual([]);
    },
  );
});

describe('a share that hides something', () => {
  it('goes without keys that this program does not know, and says so', () => {
    const made = survey({ features: [CAVE, { ...feature('far', 11, 47), seen_from: [10, 47] } as typeof CAVE] });
    const { disclosed } = settledShare(made, 'keeper', 'withhold');
    expect(JSON.stringify(disclosed.survey)).not.toContain('seen_from');
    expect(disclosed.withheld).toContainEqual(expect.objectContaining({ subject: 'note', count: 1 }));
  });

  it('is told that an earlier one held the line that it leaves out', () => {
    const line = madeLine('A', [
      { chainageM: 0, lon: 10.0002, lat: 47 },
      { chainageM: 50, lon: 10.0009, lat: 47 },
    ]);
    const made = survey({ lines: [line] });
    const withhold = [{ leak: `line_near:${line.id}:${CAVE.id}`, decision: 'withhold' as const, why: '' }];
    const before = { made_at: '2026-01-01', audience: 'keeper' as const, lines: [line.id], shown: [] };
    expect(kindsIn(made, withhold)).toEqual([]);
    expect(kindsIn(made, withhold, [before])).toEqual(['gone']);
  });

  it('is told of a line that ends short of the place and points to it', () => {
    const aimed = madeLine('A', [
      { chainageM: 0, lon: 10.0018, lat: 47 },
      { chainageM: 50, lon: 10.0011, lat: 47 },
    ]);
    const past = madeLine('B', [
      { chainageM: 0, lon: 10.0011, lat: 47 },
      { chainageM: 50, lon: 10.0011, lat: 47.0005 },
    ]);
    expect(kindsIn(survey({ lines: [aimed] }))).toEqual(['line_near']);
    expect(kindsIn(survey({ lines: [past] }))).toEqual([]);
  });
});
