import { describe, expect, it } from 'vitest';
import { LineNames, matchNames, type NameGuess } from '../../../src/exchange/read/match-names';

const KNOWN = ['L1', 'L2', 'L3', 'L4', 'TZI 1', 'Line 7'];

function matched(names: readonly string[], known: readonly string[] = KNOWN, folder: string | null = null) {
  const points = names.map((name) => ({ key: name, name, folder, fields: {} }));
  return matchNames(points, new LineNames(known));
}
const one = (name: string, known?: readonly string[], folder: string | null = null): NameGuess | undefined =>
  matched([name], known, folder).get(name);
const electrode = (number: number) => ({ kind: 'electrode', electrode: number });
const chainage = (chainageM: number) => ({ kind: 'chainage', chainageM });

describe('names in the field are read as places of lines', () => {
  it.each([
    ['L1 e24', 'L1', electrode(24)],
    ['L1e24', 'L1', electrode(24)],
    ['L1_E07', 'L1', electrode(7)],
    ['TZI 1 E48', 'TZI 1', electrode(48)],
    ['TZI1 electrode 48', 'TZI 1', electrode(48)],
    ['l-2 el. no. 3', 'L2', electrode(3)],
    ['L1-48', 'L1', electrode(48)],
    ['Line 3 12.5m', 'L3', chainage(12.5)],
    ['L1 12,5 m', 'L1', chainage(12.5)],
    ['L1 0,250 m', 'L1', chainage(0.25)],
    ['L1-12.5m', 'L1', chainage(12.5)],
    ['L1 -5 m', 'L1', chainage(-5)],
    ['L1 100 ft', 'L1', chainage(30.48)],
    ['L1 at 40', 'L1', chainage(40)],
    ['L1 ch 40', 'L1', chainage(40)],
    ['L1 1+250', 'L1', chainage(1250)],
    ['7 station 30', 'Line 7', chainage(30)],
    ['L2 start', 'L2', { kind: 'start' }],
    ['L2 END', 'L2', { kind: 'end' }],
    ['L2 remote B', 'L2', { kind: 'remote', role: 'B' }],
    ['L2 N inf', 'L2', { kind: 'remote', role: 'N' }],
  ])('%s', (name, line, at) => {
    expect(one(name)).toMatchObject({ lines: [line], at });
  });

  it.each(['L1 1,250 m', 'L1 ch 1,250', 'L1 at 12,500'])('%s is left alone: its comma may be of thousands', (name) => {
    expect(one(name)).toBeUndefined();
  });

  it('with the folder as the line where the name says none', () => {
    expect(one('e5', KNOWN, 'L4')).toMatchObject({ lines: ['L4'], at: electrode(5), certainty: 'sure' });
    expect(one('12.5 m', KNOWN, 'L4')).toMatchObject({ lines: ['L4'], at: chainage(12.5) });
  });

  it('with the only line where neither says one', () => {
    expect(one('e5', ['L1'])).toMatchObject({ lines: ['L1'], certainty: 'likely' });
    expect(one('e5', ['L1', 'L2'])).toBeUndefined();
  });

  it('as the remote electrode of every line, or of a range of lines', () => {
    expect(one('B remote')).toMatchObject({ lines: [], at: { kind: 'remote', role: 'B' } });
    expect(one('L1-4 infty')).toMatchObject({ lines: ['L1', 'L2', 'L3', 'L4'], at: { kind: 'remote', role: 'B' } });
    expect(one('L3-9 infty')).toBeUndefined();
  });

  it('with less certainty from a number without a word, and from a line of a like name', () => {
    expect(one('L1 e24')?.certainty).toBe('sure');
    expect(one('L1 24')?.certainty).toBe('likely');
    expect(one('Line 1 e24')).toMatchObject({ lines: ['L1'], certainty: 'likely' });
  });

  it('from named values, when the map was a table once', () => {
    const fields = { Line: 'L1', Chainage_m: '17.5' };
    const guesses = matchNames([{ key: 'a', name: 'x', folder: null, fields }], new LineNames(KNOWN));
    expect(guesses.get('a')).toMatchObject({ lines: ['L1'], at: chainage(17.5), pattern: 'fields' });
  });
});

describe('names that say no place of a line', () => {
  it.each(['Cave entrance', 'L1', 'car park', '001', '2020-02-02T03:02', 'Lineage', 'Line24', '', 'End', 'L1 e0'])(
    '%s is matched with nothing',
    (name) => {
      expect(one(name)).toBeUndefined();
    },
  );

  it('of a line that is known nowhere need each other', () => {
    expect(one('Q e1')).toBeUndefined();
    expect(matched(['Q e1', 'Q e2']).size).toBe(2);
    expect(matched(['Q e1', 'Q e1 again']).size).toBe(0);
    expect(matched(['A-07', 'A-08']).size).toBe(0);
    expect(matched(['A-07', 'A-08', 'A-09']).get('A-07')).toMatchObject({ lines: ['A'], at: electrode(7) });
    expect(matched(['Marker 1', 'Marker 2', 'Marker 3']).size).toBe(0);
  });

  it('are not guessed where two lines might be meant', () => {
    expect(one('1 e3', ['L1', 'Line 1'])).not.toMatchObject({ lines: ['L1'] });
  });
});
