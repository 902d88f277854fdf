import { describe, expect, it } from 'vitest';
import { twoProbeFactorM } from '../../src/ground/geometric-factor';
import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import { nominalDistances } from '../../src/ground/layout';
import { rodContactPerOhmM } from '../../src/ground/rod-contact';
import { twoProbeOhm } from '../../src/ground/two-probe';
import { roundPassage } from '../../src/ground/void-shape';
import { createVoidTable, type VoidTable } from '../../src/ground/void-table';
import { type SoundingResult, sounding, soundingKey } from '../../src/studies/sounding';
import { type Rung, type SoundingInput, soundingInput } from '../../src/studies/sounding-input';
import { soundingWords } from '../../src/studies/sounding-words';
import type { Hookup } from '../../src/survey/hookup';
import { demoContent } from '../app/demo-content';
import { normalNumbers } from '../helpers/chance';
import { LADDER_M, layoutFor, SOIL_OVER_ROCK, voidRatios } from '../helpers/made-ladder';

let kept: VoidTable | null = null;
const tableOf = (): VoidTable => {
  kept ??= createVoidTable();
  return kept;
};
const run = (input: SoundingInput): SoundingResult => sounding(input, tableOf);

interface Made {
  readonly hookup: Hookup;
  readonly figure: (spacingM: number, k: number) => number;
  readonly reference?: (spacingM: number) => number;
}

/** A ladder made up by hand, at chainage 10 of a line. */
function made({ hookup, figure, reference }: Made): SoundingInput {
  const rungs = LADDER_M.map(
    (spacingM, k): Rung => ({
      spacingM,
      layout: layoutFor(hookup, 10, spacingM),
      figureOhmM: figure(spacingM, k),
      ownSigmaLn: 0.03,
      reference: reference
        ? { figureOhmM: reference(spacingM), scatterLn: 0.04, stations: 8, basis: 'same_day_and_wetting' }
        : null,
    }),
  );
  return { line: 'X', chainageM: 10, hookup, rungs, overRangeM: [], pairs: [] };
}

const quiet = (hookup: Hookup) => (spacingM: number) =>
  layeredApparentOhmM(SOIL_OVER_ROCK, nominalDistances(layoutFor(hookup, 10, spacingM)));

describe('a two-probe ladder', () => {
  const contact = rodContactPerOhmM({ lengthM: 0.3, radiusM: 0.005 });
  if (!contact.ok) throw new Error(contact.sentence);
  const ordinary = (groundOhmM: number, seed: number): SoundingInput => {
    const normal = normalNumbers(seed);
    return made({
      hookup: 'two_probe',
      figure: (a) => {
        const each = () => contact.value * groundOhmM * Math.exp(0.1 * normal());
        return twoProbeFactorM(a) * twoProbeOhm(each(), each(), groundOhmM, a) * Math.exp(0.01 * normal());
      },
    });
  };

  it('over ordinary ground is answered "mostly contact", never with a cave, a layer or a resistivity', () => {
    for (let seed = 1; seed <= 100; seed += 1) {
      const result = run(ordinary(30 * 10 ** (seed / 50), seed));
      expect(result.contact.verdict).toBe('mostly_contact');
      expect(result.contact.low95 as number).toBeGreaterThanOrEqual(0.5);
      expect(result.layers.model).toBeNull();
      expect(result.layers.reason).toContain('two probes');
      expect(result.void).toMatchObject({ verdict: null, test: null });
      expect(result.void.reason).toContain('mostly contact');
      const told = Object.values(soundingWords(result)).flat().join(' ');
      expect(told).not.toMatch(/Ω·m/);
    }
  });

  it('has a reading named that is ten times too high or too low, and its share taken from the others', () => {
    for (const [k, spacingM] of LADDER_M.entries()) {
      for (const times of [10, 0.1]) {
        const ladder = ordinary(200, 40 + k);
        const rungs = ladder.rungs.map((rung, i) =>
          i === k ? { ...rung, figureOhmM: times * rung.figureOhmM } : rung,
        );
        const { contact } = run({ ...ladder, rungs });
        expect(contact.sentence).toContain(`The reading at ${spacingM} m is `);
        expect(contact.sentence).toContain('read it again');
        expect(contact.bySpacing.map((share) => share.spacingM)).toEqual(LADDER_M.filter((a) => a !== spacingM));
        expect(contact.verdict).toBe('mostly_contact');
      }
    }
  });

  it('has no reading named where contacts differ as they usually do', () => {
    for (let seed = 1; seed <= 100; seed += 1) {
      expect(run(ordinary(200, seed)).contact.sentence).not.toContain('read it again');
    }
  });

  it('needs no table of void responses', () => {
    const none = (): VoidTable => {
      throw new Error('asked for');
    };
    expect(() => sounding(ordinary(200, 1), none)).not.toThrow();
  });

  it('whose R falls like that of four electrodes is not believed to be one', () => {
    const result = run(made({ hookup: 'two_probe', figure: quiet('pole_pole') }));
    expect(result.contact.verdict).toBe('cannot_tell');
    expect(result.contact.sentence).toContain('two-probe');
  });
});

describe('a pole-pole ladder', () => {
  it('that reads like its reference needs no void and has little contact', () => {
    const result = run(made({ hookup: 'pole_pole', figure: quiet('pole_pole'), reference: quiet('pole_pole') }));
    expect(result.void.verdict).toBe('no_void_needed');
    expect(result.contact.verdict).toBe('little_contact');
    expect(soundingWords(result).void.join(' ')).not.toContain('If it is a void');
  });

  it('shows its layers, with ranges that hold the truth', () => {
    const { model } = run(made({ hookup: 'pole_pole', figure: quiet('pole_pole') })).layers;
    expect(model?.layers).toBe(2);
    for (const [i, truth] of SOIL_OVER_ROCK.resistivitiesOhmM.entries()) {
      expect(model?.resistivities[i]?.low95).toBeLessThanOrEqual(truth);
      expect(model?.resistivities[i]?.high95).toBeGreaterThanOrEqual(truth);
    }
  });

  it('over a passage is told as a void with its ranges, and the layers are warned of', () => {
    const layouts = LADDER_M.map((a) => layoutFor('pole_pole', 10, a));
    const ratios = voidRatios(roundPassage(1.45, 40), { depthM: 2.5, atM: 10, bearingDeg: 90 }, layouts, true);
    const figure = (a: number, k: number) => quiet('pole_pole')(a) * (ratios[k] as number);
    const result = run(made({ hookup: 'pole_pole', figure, reference: quiet('pole_pole') }));
    expect(result.void.verdict).toBe('void_like');
    const told = soundingWords(result);
    expect(told.void.join(' ')).toMatch(/axis \d.*95 %: .* m\) below ground, radius/);
    expect(told.void.join(' ')).toContain('no proof');
    expect(told.layers.join(' ')).toContain('as if there were no void');
  });

  it('over a passage has a share of contact whose range holds the truth', () => {
    const layouts = LADDER_M.map((a) => layoutFor('pole_pole', 10, a));
    const ratios = voidRatios(roundPassage(1.45, 40), { depthM: 2.5, atM: 10, bearingDeg: 90 }, layouts, true);
    for (const contactOhm of [0, 0.3, 3]) {
      const figure = (a: number, k: number) =>
        quiet('pole_pole')(a) * (ratios[k] as number) + 2 * Math.PI * a * contactOhm;
      const { contact } = run(made({ hookup: 'pole_pole', figure, reference: quiet('pole_pole') }));
      for (const [k, { spacingM, low95, high95 }] of contact.bySpacing.entries()) {
        const truth = (2 * Math.PI * spacingM * contactOhm) / figure(spacingM, k);
        expect(low95).toBeLessThanOrEqual(truth);
        expect(high95).toBeGreaterThanOrEqual(truth);
      }
      expect(contact.bySpacing).toHaveLength(LADDER_M.length);
    }
  });

  it('without a reference never comes to a void, and says what is missing', () => {
    const layered = run(made({ hookup: 'pole_pole', figure: quiet('pole_pole') }));
    expect(layered.void).toMatchObject({ verdict: 'no_void_needed', test: null });
    expect(layered.void.reason).toContain('no reference');
    const wild = run(made({ hookup: 'pole_pole', figure: (_, k) => [300, 900, 250, 800, 200, 700][k] as number }));
    expect(wild.void).toMatchObject({ verdict: 'unresolved', test: null });
    expect(wild.layers.explains).toBe(false);
    expect(soundingWords(wild).layers.join(' ')).toContain('do not explain');
  });
});

describe('the demo', () => {
  const { survey, findings } = demoContent();
  const at = (line: string, chainageM: number): SoundingResult => {
    const input = soundingInput(survey, findings, line, chainageM);
    if (!input.ok) throw new Error(input.sentence);
    return run(input.value);
  };

  it('has its passage found by the ladders over it, with ranges that hold its depth and radius', () => {
    // Line, ladder next to the crossing of truth.json, depth of the axis there.
    const over = [
      ['A', 19, 2.48],
      ['B', 19, 2.47],
      ['C', 14, 2.56],
    ] as const;
    const results = over.map(([line, chainageM]) => at(line, chainageM));
    expect(results.filter(({ void: { verdict } }) => verdict === 'void_like').length).toBeGreaterThanOrEqual(2);
    for (const [k, { void: answer }] of results.entries()) {
      expect(['void_like', 'unresolved']).toContain(answer.verdict);
      if (!answer.test) throw new Error('a ladder with a reference is tested');
      const { depthM, radiusM } = answer.test.best;
      expect(depthM.low95).toBeLessThan(over[k]?.[2] as number);
      expect(depthM.high95).toBeGreaterThan(over[k]?.[2] as number);
      expect(radiusM.low95).toBeLessThan(1.45);
      expect(radiusM.high95).toBeGreaterThan(1.45);
    }
  });

  it('has no false alarm on the line over no passage', () => {
    const verdicts = Array.from({ length: 21 }, (_, i) => at('D', 8 + i).void.verdict);
    expect(verdicts.filter((verdict) => verdict === 'void_like')).toEqual([]);
  });

  it('has its two-probe line reported as contact, and the bad seating on it found', () => {
    const result = at('T', 12);
    expect(result.contact.verdict).toBe('mostly_contact');
    expect(result.follows).toMatchObject({ verdict: 'probe' });
    expect(result.seatings.length).toBeGreaterThan(0);
  });

  it('names the nearest chainages where there is no ladder, and the lines where there is no such line', () => {
    const none = soundingInput(survey, findings, 'A', 18.4);
    expect(none).toMatchObject({ ok: false, code: 'no_ladder_here' });
    expect(none.ok ? '' : none.sentence).toContain('17, 18, 19 m');
    expect(soundingInput(survey, findings, 'Q', 18)).toMatchObject({ ok: false, code: 'no_such_line' });
  });
});

describe('the key of a study', () => {
  const input = made({ hookup: 'pole_pole', figure: quiet('pole_pole'), reference: quiet('pole_pole') });

  it('is the same for the same input and another for another', () => {
    expect(soundingKey(structuredClone(input))).toBe(soundingKey(input));
    expect(soundingKey({ ...input, chainageM: 11 })).not.toBe(soundingKey(input));
    expect(soundingKey(input)).toMatch(/^sounding:[0-9a-f]{64}$/);
  });

  it('comes with a result whose progress rises to 1', () => {
    const heard: number[] = [];
    const result = sounding(
      input,
      (tick) => createVoidTable(tick),
      (fraction) => heard.push(fraction),
    );
    expect(result.key).toBe(soundingKey(input));
    expect(heard[heard.length - 1]).toBe(1);
    expect([...heard].sort((p, q) => p - q)).toEqual(heard);
  });
});
