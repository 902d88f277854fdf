import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { discloseTo, type Settled } from '../../src/discretion/disclose-to';
import type { EarlierShare } from '../../src/discretion/earlier-share';
import { RULE_KEYS, SETTING_KEYS } from '../../src/discretion/known-keys';
import { renamer } from '../../src/discretion/renamed-lines';
import { wordsMayStand } from '../../src/discretion/terms-tell';
import { DEFAULT_SETTINGS, settingsAsWritten } from '../../src/evidence/settings';
import { readSetbackRules } from '../../src/karst/setback-rules';
import { makeId } from '../../src/survey/ids';
import type { Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeOuting, madeReading } from '../helpers/made-survey';
import { feature, settledShare } from './made-share';

const CLASS = {
  name: 'bats',
  keeper: { show: 'withheld' },
  planner: { show: 'generalised', grid_m: 500 },
  public: { show: 'withheld' },
  protect_radius_m: 40,
};
const CAVE = feature('cave', 10, 47, {
  type: 'cave_entrance',
  name: 'Bluewhistle Cave',
  external_id: 'Register Q881/25',
  confidentiality: 'bats',
});
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
    `10° 0' 0.3" O, 47° 0' 0.2" N`,
    '47 00 00.2 N, 10 00 00.3 E',
    '47:00:00.2 / 10:00:00.3',
    'N47 00.003 E10 00.005',
    '47d00m00.2s, 10d00m00.3s',
    // Three decimals are some 80 m: more than the radius, and far less than the square.
    '47.000 10.001',
    'B l u e w h i s t l e',
    'Register Q881/25',
    'no. Q 881-25',
  ])('that says “%s” tells, and is taken out when that is withheld', (notes) => {
    const made = noted(notes);
    expect(kindsIn(made)).toEqual(['named']);
    expect(settledShare(made, 'keeper', 'withhold').disclosed.survey.site.notes).not.toBe(notes);
    expect(settledShare(made, 'keeper', 'accept').disclosed.survey.site.notes).toBe(notes);
  });

  it.each([
    'a blue car whistled',
    'park at 47.1001, 10.1002',
    'cave of the upper spring',
    '47 readings, 10.5 m, 0.3 apart',
  ])('that says “%s” does not', (notes) => {
    expect(kindsIn(noted(notes))).toEqual([]);
  });
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

describe('a line whose name is withheld', () => {
  const at = (name: string, lat: number) =>
    madeLine(name, [
      { chainageM: 0, lon: 10.01, lat },
      { chainageM: 50, lon: 10.011, lat },
    ]);
  const named = at('Bluewhistle 1', 47.01);

  it('gets an id that cannot be drawn from the old name, and so does all that is called after it', () => {
    const made = survey({ lines: [named, at('Line 1', 47.02)] });
    const { disclosed } = settledShare(made, 'keeper', 'withhold');
    const [line] = disclosed.survey.lines;
    // Another is called Line 1 already.
    expect(disclosed.survey.lines.map(({ name }) => name)).toEqual(['Line 2', 'Line 1']);
    const old = [named.id, ...named.path.map(({ id }) => id)];
    const text = JSON.stringify([disclosed.survey, disclosed.findings]);
    expect(old.filter((id) => text.includes(id))).toEqual([]);
    expect(disclosed.findings.lines.map(({ lineId }) => lineId)).toContain(line?.id);
    expect(settledShare(made, 'keeper', 'withhold').disclosed.survey.lines).toEqual(disclosed.survey.lines);
  });

  it('keeps its id where the name was accepted', () => {
    const { disclosed } = settledShare(survey({ lines: [named] }), 'keeper', 'accept');
    expect(disclosed.survey.lines).toEqual([named]);
  });

  it.each([
    ['Line Bluewhistle 1 and line Bluewhistle 12', 'Line Line 2 and line Bluewhistle 12'],
    ['lines A, B and Bluewhistle 1', 'lines Line 3, B and Line 2'],
    ['line A, 15 to 21 m', 'line Line 3, 15 to 21 m'],
    ['lines B and A agree at A-frames', 'lines B and Line 3 agree at A-frames'],
  ])('is called by its new name in “%s”', (before, after) => {
    const renamed = new Map([
      ['Bluewhistle 1', 'Line 2'],
      ['A', 'Line 3'],
    ]);
    expect(renamer(renamed, ['A', 'B', 'Bluewhistle 1', 'Bluewhistle 12'])(before)).toBe(after);
  });
});

describe('words of the user’s own', () => {
  it('are looked through in settings and rules as well: what no file reads is left out', () => {
    const entrance = [10, 47];
    const site = {
      ...base.site,
      settings: { z_threshold: 2.5, entrance },
      setback_rules: [{ type: 'any', distance_m: 5, from: 'point', with_uncertainty: false, entrance }],
    };
    const { disclosed } = settledShare(survey({ site }), 'keeper', 'withhold');
    expect(JSON.stringify(disclosed.survey)).not.toContain('entrance":[');
    expect(disclosed.survey.site.settings).toEqual({ z_threshold: 2.5 });
    expect([...SETTING_KEYS].sort()).toEqual(Object.keys(settingsAsWritten(DEFAULT_SETTINGS)).sort());
    const rule = { type: 'any', distance_m: 5, from: 'point' as const, with_uncertainty: false, cites: 'x' };
    expect(readSetbackRules([Object.fromEntries(Object.entries(rule).filter(([key]) => RULE_KEYS.has(key)))]).ok).toBe(
      true,
    );
  });

  it('do not tell by the class that hides, nor by what it cites', () => {
    const cited = { ...CLASS, name: 'bats of Bluewhistle', cites: 'the owner of Bluewhistle Cave' };
    const made = { ...survey(), features: [{ ...CAVE, confidentiality: cited.name }] };
    const { disclosed } = settledShare(
      { ...made, site: { ...made.site, discretion_classes: [cited] } },
      'keeper',
      'withhold',
    );
    expect(disclosed.withheld).toContainEqual(expect.objectContaining({ subject: 'feature', count: 1 }));
    expect(JSON.stringify(disclosed.withheld)).not.toContain('Bluewhistle');
  });

  it('are refused as title, contact or licence where they tell, unless the name was accepted', () => {
    const title = { title: 'Readings at Bluewhistle', contact: null };
    const refused = wordsMayStand(survey(), 'public', [], title);
    expect(refused).toMatchObject({ ok: false, code: 'words_tell' });
    expect(wordsMayStand(survey(), 'public', [], { title: 'Readings at the quarry' }).ok).toBe(true);
    expect(wordsMayStand(survey(), 'surveyor', [], title).ok).toBe(true);
    const accepted = [{ leak: `named:site.name:${CAVE.id}`, decision: 'accept' as const, why: 'it is on every map' }];
    expect(wordsMayStand(survey(), 'public', accepted, title).ok).toBe(true);
  });
});

describe('what stands beside a line', () => {
  it('is not named to outsiders by the doubt about it', () => {
    const line = madeLine('A', [
      { chainageM: 0, lon: 10.01, lat: 47.01 },
      { chainageM: 50, lon: 10.01066, lat: 47.01 },
    ]);
    const made = survey({
      lines: [line],
      readings: [10, 14, 18].map((midpoint_m) =>
        madeReading(line, { midpoint_m, spacing_m: 4, value: 100, hookup: 'wenner_alpha' }),
      ),
      surroundings: [
        {
          id: makeId('surrounding', 'test', 'pipe'),
          revised: { at: null, by: null, count: 0 },
          kind: 'pipe',
          name: 'of the Exemplar farm',
          positions: [
            { x: 10.0101, y: 47.00999, crs: 'EPSG:4326' },
            { x: 10.0103, y: 47.00999, crs: 'EPSG:4326' },
          ],
        },
      ],
    });
    const said = (audience: 'keeper' | 'planner') =>
      settledShare(made, audience, 'withhold').disclosed.findings.doubts.map(({ sentence }) => sentence);
    expect(said('keeper').filter((sentence) => sentence.includes('a pipe (of the Exemplar farm)'))).toHaveLength(1);
    expect(said('planner').filter((sentence) => sentence.includes('a pipe comes'))).toHaveLength(1);
    expect(said('planner').join()).not.toContain('Exemplar');
  });
});

describe('a remote electrode that stood near the place', () => {
  const line = madeLine('A', [
    { chainageM: 0, lon: 10.004, lat: 47 },
    { chainageM: 50, lon: 10.00466, lat: 47 },
  ]);
  const remote = { role: 'B' as const, position: { x: 10.0001, y: 47, crs: 'EPSG:4326', accuracy_m: 1 } };
  const outing = madeOuting('day', { remotes: [remote] });
  const read = (hookup: 'pole_pole' | 'wenner_alpha') =>
    [10, 14, 18, 22].map((midpoint_m) =>
      madeReading(line, { outing: outing.id, midpoint_m, spacing_m: 4, value: 5, unit: 'ohm', hookup }),
    );
  const made = survey({ lines: [line], outings: [outing], readings: [...read('pole_pole'), ...read('wenner_alpha')] });

  it('is not told by values beside figures: their quotient is its distance', () => {
    const { disclosed } = settledShare(made, 'keeper', 'withhold');
    expect(disclosed.survey.outings.flatMap(({ remotes }) => remotes)).toEqual([]);
    // What it would tell: K of a pole-pole reading differs from 2πa by more than the digits of a figure.
    const [midpoint] = disclosed.findings.lines[0]?.midpoints.filter(({ hookup }) => hookup === 'pole_pole') ?? [];
    expect(Math.abs((midpoint?.figureOhmM ?? 0) / (5 * 2 * Math.PI * 4) - 1)).toBeGreaterThan(1e-3);
    expect(disclosed.survey.readings.map(({ hookup }) => hookup)).toEqual(Array(4).fill('wenner_alpha'));
    expect(disclosed.withheld).toContainEqual(expect.objectContaining({ subject: 'reading', count: 4 }));
  });

  it('takes no reading away where it was accepted', () => {
    expect(settledShare(made, 'keeper', 'accept').disclosed.survey.readings).toHaveLength(8);
  });
});

describe('features that were joined', () => {
  const sink = (key: string, said: Partial<Survey['features'][number]>) => feature(key, 10.02, 47.02, said);
  const kept = sink('kept', { name: 'Sink 7' });
  const joined = sink('joined', {
    ...{ name: 'Old Ferrel Hole', confidentiality: 'bats', retired: true, merged_into: kept.id },
  });

  it('are one thing: the class of the one that was given up holds for the one that stands', () => {
    const { disclosed } = settledShare(survey({ features: [kept, joined] }), 'planner', 'withhold');
    expect(disclosed.survey.features).toMatchObject([{ name: null, generalised_grid_m: 500 }]);
    const forKeeper = settledShare(survey({ features: [kept, joined] }), 'keeper', 'withhold').disclosed;
    expect(JSON.stringify(forKeeper.survey)).not.toMatch(/Sink 7|Ferrel|10\.02/);
  });

  it('are found by each of their names, and by those that have no class of their own', () => {
    const plain = sink('plain', { name: 'Old Ferrel Hole', retired: true, merged_into: CAVE.id });
    const made = { ...noted('met at Ferrel'), features: [CAVE, plain] };
    expect(kindsIn(made)).toEqual(['named']);
    const { disclosed } = settledShare(made, 'keeper', 'withhold');
    expect(JSON.stringify(disclosed.survey)).not.toMatch(/Ferrel|10\.02/);
  });

  it('may go round in a circle', () => {
    const first = sink('first', { merged_into: makeId('feature', 'share', 'second'), retired: true });
    const second = sink('second', { merged_into: first.id, retired: true, confidentiality: 'bats' });
    const { disclosed } = settledShare(survey({ features: [first, second] }), 'keeper', 'withhold');
    expect(disclosed.survey.features).toEqual([]);
  });
});

describe('a doubt about a day', () => {
  it('calls it by no name that outsiders do not get', () => {
    const line = madeLine('A', [
      { chainageM: 0, lon: 10.01, lat: 47.01 },
      { chainageM: 50, lon: 10.01066, lat: 47.01 },
    ]);
    const outing = madeOuting('Exemplar family, Sunday');
    const made = survey({
      lines: [line],
      outings: [outing],
      // The same two places in the morning and six hours later, each a fifth higher.
      readings: [8, 14].flatMap((hour) =>
        [10, 14, 18, 22].map((midpoint_m, i) =>
          madeReading(line, {
            ...{ outing: outing.id, midpoint_m, spacing_m: 4, hookup: 'wenner_alpha', unit: 'ohm_m' },
            value: 100 * (1 + 0.2 * Number(hour > 8)) * (1 + i / 1000),
            time: `2026-05-02T${String(hour).padStart(2, '0')}:${10 + 5 * i}:00Z`,
          }),
        ),
      ),
    });
    const drift = (audience: 'keeper' | 'planner') =>
      settledShare(made, audience, 'withhold')
        .disclosed.findings.doubts.filter(({ code }) => code === 'time_drift')
        .map(({ sentence }) => sentence);
    expect(drift('keeper').join()).toContain('Line A, Exemplar family, Sunday: ');
    expect(drift('planner').join()).toContain('Line A, Outing 1: ');
  });
});
