import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { chanceFrom } from './chance';
import { faultOfEdits, faultOfMerge, randomlyEdited } from './edits';
import { faultOfSurvey, nonNumber, randomSurvey, slipOf } from './ladders';
import { mutated } from './mutate';
import { goodFiles, type Tally, tryReaders } from './readers';
import { farthest, faultOfFeet, faultOfPack, faultOfTables } from './round-trips';
import { goodPacks, tryPack, tryPhoto, tryWorldFile } from './whole-files';

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

describe('edits in random order', () => {
  it('are taken back whole, come again from the journal, and join with a colleague’s', () => {
    let refused = 0;
    for (let seed = 0; seed < 25; seed += 1) {
      const edited = randomlyEdited(seed);
      expect([seed, faultOfEdits(edited)]).toEqual([seed, null]);
      expect(edited.done).toBeGreaterThan(20);
      refused += edited.refused;
    }
    expect(refused).toBeGreaterThan(100);
    for (let seed = 0; seed < 15; seed += 1) expect([seed, faultOfMerge(seed)]).toEqual([seed, null]);
  });

  it('of which one is missing in the journal or in the history would be found', () => {
    const edited = randomlyEdited(2);
    expect(faultOfEdits({ ...edited, journal: edited.journal.slice(1) })).toContain('replayed');
    const undo = edited.history.undo.slice(1);
    expect(faultOfEdits({ ...edited, history: { ...edited.history, undo } })).toContain('undoing');
  });
});

describe('random surveys that go out and come back', () => {
  it('are the same by pack, by tables, and with a plane grid in feet', async () => {
    expect(await faultOfPack(1)).toBeNull();
    for (let seed = 0; seed < 10; seed += 1) expect([seed, faultOfTables(seed)]).toEqual([seed, null]);
    for (let seed = 0; seed < 2; seed += 1) expect([seed, faultOfFeet(seed)]).toEqual([seed, null]);
    // A US survey foot taken for an international one is two millionths off, 2 mm in a kilometre.
    expect(farthest({ x: [1000] }, { x: [1000 * 1.000002] }, 'a')).toContain('a.x.0 is 1000 and');
    expect(farthest({ x: 1 }, {}, 'a')).toContain('a.x');
  });

  it('are read or refused with a sentence where the pack, a photo or a world file is wrong', async () => {
    const packs = await goodPacks();
    const tries = { pack: (seed: number) => tryPack(seed, packs), photo: tryPhoto, world: tryWorldFile };
    for (const [name, count] of [
      ['pack', 40],
      ['photo', 500],
      ['world', 500],
    ] as const) {
      const outcomes = Array.from({ length: count }, (_, seed) => tries[name](seed));
      expect(new Set(outcomes), name).toEqual(new Set(['read', 'refused']));
    }
  });
});
