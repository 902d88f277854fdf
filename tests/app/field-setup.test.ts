import { describe, expect, it } from 'vitest';
import { type Chosen, saidInForm } from '../../src/app/field/setup';
import { suggestedSpacings, suggestedStations } from '../../src/app/field/suggestions';
import { makeId } from '../../src/survey/ids';
import type { Outing } from '../../src/survey/survey';
import { wallDay } from '../../src/wall-clock';
import { demoContent } from './demo-content';

const LINE = makeId('line', 'seed', 'A');
const AUTHOR = { by: 'test', at: '2026-05-12T10:00:00Z' };
const NEW: Chosen = { outing: null, hookup: 'pole_pole', line: LINE };
const FORM: Readonly<Record<string, string>> = {
  name: '2026-06-01',
  people: 'Ada, Ben;',
  unit: 'kohm_m',
  limit: '19,99',
  formula: 'two_pi_a',
  rod_length: '0.6',
  wetting: 'water',
  order: 'ladder',
  from: '0',
  to: '4',
  step: '2',
  spacings: '1 2',
  rods_from: '0',
};
const form =
  (change: Record<string, string> = {}) =>
  (name: string): string =>
    ({ ...FORM, ...change })[name] ?? '';

describe('the form before the first reading', () => {
  it('makes an outing and a plan', () => {
    const said = saidInForm(form(), NEW);
    if (!said.ok) throw new Error(said.sentence);
    const change = said.value.changeFor(demoContent().survey, 'seed', AUTHOR);
    if (!change.ok) throw new Error(change.sentence);
    const outing = change.value.put?.outings?.[0];
    expect(outing).toMatchObject({ name: '2026-06-01', date: '2026-06-01', unit: 'kohm_m', salt_water_allowed: false });
    expect(said.value.planFor(outing?.id ?? null)).toEqual({
      outing: outing?.id,
      line: LINE,
      order: 'ladder',
      stationsM: [0, 2, 4],
      spacingsM: [1, 2],
      n: null,
      innerSpacingM: null,
      leapfrog: false,
      again: false,
      rodsFromM: 0,
      rodsToM: null,
    });
  });

  it('refuses what is missing, one thing at a time, and never guesses the hookup or the unit', () => {
    const code = (change: Record<string, string>, chosen: Partial<Chosen> = {}): string => {
      const said = saidInForm(form(change), { ...NEW, ...chosen });
      return said.ok ? 'done' : said.code;
    };
    expect(code({}, { hookup: null })).toBe('no_hookup');
    expect(code({ unit: '' })).toBe('no_unit');
    expect(code({ limit: 'much' })).toBe('not_a_number');
    // 6 mm, typed where metres are asked for.
    expect(code({ rod_radius: '6' })).toBe('rod_too_thick');
    expect(code({ rod_radius: '0.006' })).toBe('done');
    expect(code({ from: '' })).toBe('not_a_number');
    expect(code({ rods_to: 'far' })).toBe('not_a_number');
    expect(code({ step: '0' })).toBe('step_not_positive');
    expect(code({ spacings: '' })).toBe('no_spacings');
    expect(code({}, { line: null })).toBe('no_line');
    expect(code({}, { hookup: 'schlumberger' })).toBe('no_inner_spacing');
    expect(code({ n: '0' }, { hookup: 'dipole_dipole' })).toBe('no_n');
    expect(code({ n: '2' }, { hookup: 'dipole_dipole' })).toBe('done');
  });

  it('goes on with an outing that is there, and keeps what it does not ask about', () => {
    const { survey } = demoContent();
    const [outing] = survey.outings;
    if (!outing) throw new Error('the demo has no outing');
    const known: Outing = { ...outing, meter: { ...outing.meter, stated_error: 0.02 } };
    const said = saidInForm(form({ name: outing.name }), { ...NEW, outing: known });
    if (!said.ok) throw new Error(said.sentence);
    const change = said.value.changeFor({ ...survey, outings: [known] }, 'seed', AUTHOR);
    if (!change.ok) throw new Error(change.sentence);
    expect(change.value.put?.outings).toMatchObject([
      {
        id: outing.id,
        remotes: outing.remotes,
        people: ['Ada', 'Ben'],
        unit: 'kohm_m',
        hookup: 'pole_pole',
        wetting: 'water',
        meter: { stated_error: 0.02, formula: 'two_pi_a', upper_limit: 19.99, upper_limit_unit: 'kohm_m' },
        rods: [{ length_m: 0.6 }],
      },
    ]);
  });

  it('calls a day by its date on the wall', () => {
    expect(wallDay(new Date(2026, 4, 2, 0, 5))).toBe('2026-05-02');
  });
});

describe('what the form begins with', () => {
  it('is how the line was read before', () => {
    const { survey } = demoContent();
    const line = survey.lines.find(({ name }) => name === 'C');
    if (!line) throw new Error('the demo has no line C');
    // As demo-data/readings.csv has it: stations every metre, spacings 1, 2, 3, 5, 8 and 12 m.
    expect(suggestedStations(survey, line.id)?.stepM).toBe(1);
    expect(suggestedSpacings(survey, 'pole_pole')).toEqual([1, 2, 3, 5, 8, 12]);
    expect(suggestedSpacings(survey, null)).toEqual([]);
  });

  it('is the planned electrodes of a line that was never read', () => {
    const { survey } = demoContent();
    const fresh = { id: LINE, revised: AUTHOR_NEVER, name: 'N', path: [], profile: [] };
    const planned = { ...fresh, layout: { from_m: 0, to_m: 46, step_m: 2 } };
    expect(suggestedStations({ ...survey, lines: [planned] }, LINE)).toEqual({ fromM: 0, toM: 46, stepM: 2 });
    expect(suggestedStations({ ...survey, lines: [fresh] }, LINE)).toBeNull();
  });
});

const AUTHOR_NEVER = { at: null, by: null, count: 0 };
