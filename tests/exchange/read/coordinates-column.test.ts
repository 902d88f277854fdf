import { expect, test } from 'vitest';
import type { Fix } from '../../../src/survey/survey';
import { faults, lineNamed, places, read, survey } from './helpers';

const positions = (table: string) =>
  lineNamed(survey({ 'positions.csv': table }), 'L1')
    .path.filter((item): item is Fix => item.kind === 'fix')
    .map(({ position }) => position);

test('a column of MGRS references places the points, as entered, in UTM', () => {
  const found = positions('line,chainage_m,MGRS\nL1,0,32TNT9414161486\nL1,9,32T NT 94150 61486\n');
  expect(found).toEqual([
    { x: 594141.5, y: 5261486.5, crs: 'EPSG:32632', as_entered: ['32TNT9414161486'] },
    { x: 594150.5, y: 5261486.5, crs: 'EPSG:32632', as_entered: ['32T NT 94150 61486'] },
  ]);
});

test('a coarse reference is no surer than its square', () => {
  const [first] = positions('line,chainage_m,mgrs,accuracy_m\nL1,0,32TNT941614,3\nL1,900,32TNT949614,3\n');
  // Half the diagonal of 100 m is 70.7 m; 3 m of 68 % beside it changes nothing.
  expect(first?.accuracy_m).toBeCloseTo(70.9, 0);
  expect(first?.accuracy_level).toBe(95);
});

test('a column of coordinates takes every usual spelling, and says what it took two plain numbers for', () => {
  const table =
    'line,chainage_m,coordinates\nL1,0,"47.51, 10.25"\nL1,9,N47 30.6 E10 15.0\nL1,18,32 north 594141 5261486\n';
  const [a, b, c] = positions(table);
  expect(a).toMatchObject({ x: 10.25, y: 47.51, crs: 'EPSG:4326' });
  expect(b?.y).toBeCloseTo(47.51, 9);
  expect(c).toMatchObject({ x: 594141, y: 5261486, crs: 'EPSG:32632' });
  const guesses = read({ 'positions.csv': table }).notes.filter(({ kind }) => kind === 'guessed');
  expect(guesses.map(({ expected }) => expected)).toEqual(['latitude, then longitude']);
});

test('what is no place is a fault with its own sentence', () => {
  const found = faults({ 'positions.csv': 'line,chainage_m,coordinates\nL1,0,by the oak\nL1,9,"47,10"\n' });
  expect(places(found, 'fault')).toEqual(['2:coordinates', '3:coordinates']);
});
