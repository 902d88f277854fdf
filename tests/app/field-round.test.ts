import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isSameSpot,
  nextSpot,
  type Round,
  spacingsTyped,
  spotsOf,
  stationBeside,
  stationsEvery,
} from '../../src/app/field/round';

const LADDER: Round = { order: 'ladder', stationsM: [10, 12], spacingsM: [1, 2, 4] };
const TRAVERSE: Round = { ...LADDER, order: 'traverse' };

describe('a round', () => {
  it('reads a ladder whole before it goes to the next station', () => {
    expect(spotsOf(LADDER).map(({ stationM, spacingM }) => `${stationM}/${spacingM}`)).toEqual([
      '10/1',
      '10/2',
      '10/4',
      '12/1',
      '12/2',
      '12/4',
    ]);
  });

  it('walks the whole line at one spacing as a traverse', () => {
    expect(spotsOf(TRAVERSE).map(({ stationM, spacingM }) => `${stationM}/${spacingM}`)).toEqual([
      '10/1',
      '12/1',
      '10/2',
      '12/2',
      '10/4',
      '12/4',
    ]);
  });

  it('goes on behind the last reading, and comes back for what was left out', () => {
    const read = [
      { stationM: 10, spacingM: 1 },
      { stationM: 12, spacingM: 4 },
    ];
    const isRead = (spot: { stationM: number; spacingM: number }) => read.some((other) => isSameSpot(other, spot));
    expect(nextSpot(spotsOf(LADDER), isRead, { stationM: 10, spacingM: 1 })).toEqual({ stationM: 10, spacingM: 2 });
    expect(nextSpot(spotsOf(LADDER), isRead, { stationM: 12, spacingM: 4 })).toEqual({ stationM: 10, spacingM: 2 });
    expect(nextSpot(spotsOf(LADDER), () => true, null)).toBeNull();
    expect(nextSpot(spotsOf(LADDER), () => false, { stationM: 99, spacingM: 1 })).toEqual({
      stationM: 10,
      spacingM: 1,
    });
  });

  it('comes to every spot once, in whatever order it is begun', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('ladder' as const, 'traverse' as const),
        fc.uniqueArray(fc.integer({ min: 0, max: 500 }), { minLength: 1, maxLength: 12 }),
        fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 6 }),
        fc.nat(),
        (order, stationsM, spacingsM, begin) => {
          const round = { order, stationsM, spacingsM };
          const all = spotsOf(round);
          const read: { stationM: number; spacingM: number }[] = [];
          let last = all[begin % all.length] ?? null;
          for (let i = 0; i < all.length; i += 1) {
            const next = nextSpot(all, (spot) => read.some((other) => isSameSpot(other, spot)), last);
            if (!next) throw new Error('it ended too early');
            read.push(next);
            last = next;
          }
          expect(new Set(read.map(({ stationM, spacingM }) => `${stationM}/${spacingM}`)).size).toBe(all.length);
          expect(nextSpot(all, (spot) => read.some((other) => isSameSpot(other, spot)), last)).toBeNull();
        },
      ),
    );
  });

  it('steps from station to station by hand, and stops at the ends', () => {
    const spot = { stationM: 10, spacingM: 2 };
    expect(stationBeside(LADDER, spot, 1)).toEqual({ stationM: 12, spacingM: 2 });
    expect(stationBeside(LADDER, spot, -1)).toEqual(spot);
  });
});

describe('stations and spacings as they are typed', () => {
  it('come every step from the first to the last, forwards or back', () => {
    expect(stationsEvery(0, 0.5, 0.1)).toEqual({ ok: true, value: [0, 0.1, 0.2, 0.3, 0.4, 0.5] });
    expect(stationsEvery(4, 0, 2)).toEqual({ ok: true, value: [4, 2, 0] });
    expect(stationsEvery(3, 3, 1)).toEqual({ ok: true, value: [3] });
  });

  it('are refused where they would never end', () => {
    expect(stationsEvery(0, 10, 0)).toMatchObject({ ok: false, code: 'step_not_positive' });
    expect(stationsEvery(0, 1e9, 0.001)).toMatchObject({ ok: false, code: 'too_many_stations' });
    expect(stationsEvery(0, Number.NaN, 1)).toMatchObject({ ok: false, code: 'too_many_stations' });
  });

  it('may have decimal commas, and keep their order', () => {
    expect(spacingsTyped('8 4,5; 2')).toEqual({ ok: true, value: [8, 4.5, 2] });
    expect(spacingsTyped('1, 2, 3')).toEqual({ ok: true, value: [1, 2, 3] });
    expect(spacingsTyped('2 -4')).toMatchObject({ ok: false, code: 'not_a_spacing' });
    expect(spacingsTyped('2 x')).toMatchObject({ ok: false, code: 'not_a_spacing' });
    expect(spacingsTyped('  ')).toMatchObject({ ok: false, code: 'no_spacings' });
  });
});
