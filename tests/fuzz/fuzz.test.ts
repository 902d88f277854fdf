import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { chanceFrom } from './chance';
import { faultOfSurvey, nonNumber, randomSurvey, slipOf } from './ladders';
import { mutated } from './mutate';
import { goodFiles, type Tally, tryReaders } from './readers';

/* A little of `npm run fuzz` with every run, and whether it would find anything. */

describe('wrong files', () => {
  it('are wrong: hardly any is as it was, and a seed gives the same one again', () => {
    const bytes = new TextEncoder().encode('line,chainage_m,lon,lat\nL1,0,-91.6,17.1\n');
    const same = Array.from({ length: 500 }, (_, seed) => mutated(bytes, chanceFrom(seed))).filter(
      (wrong) => Buffer.compare(wrong, bytes) === 0,
    );
    expect(same.length).toBeLessThan(25);
    expect(mutated(bytes, chanceFrom(7))).toEqual(mutated(bytes, chanceFrom(7)));
  });

  it('are read or refused with a sentence by every reader', () => {
    const tally: Tally = { tried: 0, read: {}, refused: {}, findings: [] };
    const good = goodFiles();
    for (let seed = 0; seed < 400; seed += 1) tryReaders(seed, good, tally);
    expect(tally.findings).toEqual([]);
    for (const reader of ['survey', 'tables', 'inventory']) {
      expect(tally.read[reader], reader).toBeGreaterThan(0);
      expect(tally.refused[reader], reader).toBeGreaterThan(10);
    }
  });
});

describe('random surveys', () => {
  it('come through the pipeline with numbers only, the same in thousands', () => {
    for (let seed = 0; seed < 100; seed += 1) expect(faultOfSurvey(seed)).toBeNull();
  });

  it('with a number that is none, or with other figures, would be found', () => {
    expect(nonNumber({ a: [1, { b: Number.NaN }] }, 'x')).toContain('x.a.1.b');
    const survey = randomSurvey(3);
    const tenfold = {
      ...survey,
      readings: survey.readings.map((reading) => ({ ...reading, value: reading.value && reading.value * 10 })),
    };
    expect(slipOf(tenfold, appraise(survey), chanceFrom(1))).not.toBeNull();
  });
});
