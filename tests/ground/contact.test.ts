import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { constantPart } from '../../src/ground/constant-part';
import { layeredResistanceOhm } from '../../src/ground/layered-earth';
import { rodContactOhm, rodContactPerOhmM, rodPairContactOhm } from '../../src/ground/rod-contact';
import { contactShare, twoProbeLadder, twoProbeOhm } from '../../src/ground/two-probe';
import { toMetres } from '../../src/survey/units';
import { normalNumbers } from '../helpers/chance';
import { IEEE_142_ROD, ROD_PAIR, RODS, TWO_TERMINALS } from '../reference/rods';

const ROD = { lengthM: 0.3, radiusM: 0.005 };

function answerOf<T>(
  outcome: { readonly ok: true; readonly value: T } | { readonly ok: false; readonly sentence: string },
): T {
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

describe('the contact of a rod', () => {
  it.each(RODS)(
    '$lengthM m long in $groundOhmM Ω·m is $contactOhm Ω',
    ({ lengthM, radiusM, groundOhmM, contactOhm }) => {
      expect(answerOf(rodContactOhm({ lengthM, radiusM }, groundOhmM))).toBeCloseTo(contactOhm, 6);
    },
  );

  it('of a pair, joined, is that of Dwight', () => {
    const { apartM, groundOhmM, contactOhm, ...rod } = ROD_PAIR;
    expect(answerOf(rodPairContactOhm(rod, apartM, groundOhmM))).toBeCloseTo(contactOhm, 6);
  });

  it.each(IEEE_142_ROD.soils)('of ten feet in $resistivityOhmCm Ω·cm is the tabulated $contactOhm Ω', (soil) => {
    const rod = {
      lengthM: toMetres(IEEE_142_ROD.lengthFt, 'ft'),
      radiusM: toMetres(IEEE_142_ROD.diameterIn / 12, 'ft') / 2,
    };
    expect(Math.round(answerOf(rodContactOhm(rod, soil.resistivityOhmCm / 100)))).toBe(soil.contactOhm);
  });

  it('is refused for rods that are not slender, and pairs that stand too close', () => {
    expect(rodContactPerOhmM({ lengthM: 0.04, radiusM: 0.005 })).toMatchObject({ ok: false, code: 'rod_too_stout' });
    expect(rodContactPerOhmM({ lengthM: 0.3, radiusM: 0 })).toMatchObject({ ok: false, code: 'rod_too_stout' });
    expect(rodPairContactOhm(ROD, 0.2, 100)).toMatchObject({ ok: false, code: 'rods_too_close' });
  });
});

describe('a two-probe reading', () => {
  it.each(TWO_TERMINALS)('at $spacingM m over 100 Ω·m is $resistanceOhm Ω, whose figure is all contact', (row) => {
    const contact = answerOf(rodContactOhm(ROD, 100));
    const resistance = twoProbeOhm(contact, contact, 100, row.spacingM);
    expect(resistance).toBeCloseTo(row.resistanceOhm, 4);
    expect(2 * Math.PI * row.spacingM * resistance).toBeCloseTo(row.figureOhmM, 2);
  });

  it('is never less than half contact, over any ground that leaves it above 0 ohms', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
        fc.double({ min: 0.1, max: 1e5, noNaN: true }),
        fc.double({ min: 0.2, max: 100, noNaN: true }),
        (resistance, ground, spacing) => {
          const share = contactShare(resistance, ground, spacing);
          expect(share).toBeGreaterThanOrEqual(0.5);
          expect(share).toBeLessThanOrEqual(1);
        },
      ),
    );
  });
});

describe('a two-probe ladder', () => {
  const readings = TWO_TERMINALS.map(({ spacingM, resistanceOhm }) => ({ spacingM, resistanceOhm }));

  it('gives contact and ground back by difference when every rung has the same contact', () => {
    const { groundOhmM, contactOhm, shares } = answerOf(twoProbeLadder(readings));
    expect(groundOhmM).toBeCloseTo(100, 2);
    expect(contactOhm).toBeCloseTo(2 * 237.705278, 3);
    expect(shares[0]?.share).toBeCloseTo(475.410556 / (475.410556 + 15.915494), 5);
    // The difference of the outer rungs alone: ρ = π(R20 − R2)/(1/2 − 1/20).
    const [near, far] = [readings[0], readings[3]].map((reading) => reading?.resistanceOhm ?? Number.NaN);
    expect((Math.PI * ((far as number) - (near as number))) / (1 / 2 - 1 / 20)).toBeCloseTo(100, 2);
  });

  it('makes a third of error in the ground out of one per cent in the contact', () => {
    const worse = readings.map((reading, i) =>
      i === 3 ? { ...reading, resistanceOhm: reading.resistanceOhm + 0.01 * 475.41 } : reading,
    );
    const outer = [worse[0], worse[3]].filter((reading) => reading !== undefined);
    const { groundOhmM } = answerOf(twoProbeLadder(outer));
    expect(groundOhmM / 100 - 1).toBeCloseTo(0.33, 2);
  });

  it('has ranges of its contact share that hold the truth as often as they say', () => {
    const chance = normalNumbers(5);
    let held = 0;
    const ladders = 2000;
    for (let i = 0; i < ladders; i += 1) {
      const noisy = readings.map(({ spacingM, resistanceOhm }) => ({
        spacingM,
        resistanceOhm: resistanceOhm + 5 * chance(),
      }));
      const first = answerOf(twoProbeLadder(noisy)).shares[0];
      // The contacts of this very rung, not their mean over many.
      const truth = contactShare(noisy[0]?.resistanceOhm ?? Number.NaN, 100, 2);
      if (first && first.low95 <= truth && truth <= first.high95) held += 1;
    }
    expect(held / ladders).toBeGreaterThan(0.935);
    expect(held / ladders).toBeLessThan(0.965);
  });

  it('of two spacings leaves the share open between one half and all, and of one is refused', () => {
    const { shares } = answerOf(twoProbeLadder(readings.slice(0, 2)));
    expect(shares[0]).toMatchObject({ low95: 0.5, high95: 1 });
    expect(twoProbeLadder(readings.slice(0, 1))).toMatchObject({ ok: false, code: 'too_few_spacings' });
    expect(twoProbeLadder([])).toMatchObject({ ok: false, code: 'too_few_spacings' });
  });
});

describe('the part of a ladder that no spacing changes', () => {
  const spacings = [2, 4, 8, 20];
  const factor = (a: number) => 2 * Math.PI * a;

  it('is found, with the ground under it', () => {
    const readings = spacings.map((a) => ({ factorM: factor(a), resistanceOhm: 30 + 100 / factor(a) }));
    const { constantOhm, groundOhmM, shares } = answerOf(constantPart(readings));
    expect(constantOhm).toBeCloseTo(30, 9);
    expect(groundOhmM).toBeCloseTo(100, 8);
    expect(shares[3]?.share).toBeCloseTo(30 / (30 + 100 / factor(20)), 9);
  });

  it('is within its range of nothing over uniform ground', () => {
    const chance = normalNumbers(2);
    const readings = spacings.map((a) => ({
      factorM: factor(a),
      resistanceOhm: (100 / factor(a)) * (1 + 0.01 * chance()),
    }));
    const { shares } = answerOf(constantPart(readings));
    for (const { low95, high95 } of shares) {
      expect(low95).toBe(0);
      expect(high95).toBeLessThan(0.5);
    }
  });

  it('is imitated by thin soil over rock, as its docstring warns', () => {
    const ground = { resistivitiesOhmM: [50, 1000], thicknessesM: [3] };
    const readings = spacings.map((a) => ({
      factorM: factor(a),
      resistanceOhm: layeredResistanceOhm(ground, { am: a, an: Infinity, bm: Infinity, bn: Infinity }),
    }));
    expect(answerOf(constantPart(readings)).constantOhm).toBeGreaterThan(0);
  });

  it('needs three spacings', () => {
    const readings = [2, 4].map((a) => ({ factorM: factor(a), resistanceOhm: 10 }));
    expect(constantPart(readings)).toMatchObject({ ok: false, code: 'too_few_spacings' });
  });
});
