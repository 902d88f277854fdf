import { describe, expect, it } from 'vitest';
import { type ContactLink, type ContactNetwork, contactNetwork } from '../../src/ground/contact-network';
import { type FollowedReading, followsWhat } from '../../src/ground/follows';
import { twoProbeOhm } from '../../src/ground/two-probe';
import { evenNumbers, normalNumbers } from '../helpers/chance';

const GROUND_OHM_M = 100;

/** What two rods of known contacts would read. */
function link(contacts: Readonly<Record<string, number>>, from: string, to: string, spacingM: number): ContactLink {
  const resistanceOhm = twoProbeOhm(contacts[from] ?? Number.NaN, contacts[to] ?? Number.NaN, GROUND_OHM_M, spacingM);
  return { seatings: [from, to], ground: 'line', spacingM, resistanceOhm, sigmaOhm: 2 };
}

function solved(links: readonly ContactLink[], groundOhmM: number | null = null): ContactNetwork {
  const outcome = contactNetwork(links, groundOhmM);
  if (!outcome.ok) throw new Error(outcome.sentence);
  return outcome.value;
}

const find = (network: ContactNetwork, seating: string) => {
  const found = network.seatings.find((one) => one.seating === seating);
  if (!found) throw new Error(seating);
  return found;
};

const RODS = { p0: 200, p1: 250, p2: 800, p3: 220, p4: 300, p5: 240, p6: 260 };

/*
 *   p0 ── p1 ── p2 ── p3 ── p4 ── p5 ── p6      a line walked at 2 m: each rod in two readings
 */
const walked = (step: number, spacingM: number): ContactLink[] => {
  const names = Object.keys(RODS);
  return names.slice(0, names.length - step).map((name, i) => link(RODS, name, names[i + step] as string, spacingM));
};

describe('a line walked at one spacing', () => {
  const network = solved(walked(1, 2));

  it('fixes no contact and no ground in itself', () => {
    expect(network.seatings.map(({ known }) => known)).not.toContain('fixed');
    expect(network.grounds).toEqual([{ ground: 'line', fixed: false, groundOhmM: null, sigmaOhmM: null }]);
  });

  it('fixes every second rod against the others of its kind', () => {
    expect(find(network, 'p2').among).toEqual(['p0', 'p2', 'p4', 'p6']);
    expect(find(network, 'p1').among).toEqual(['p1', 'p3', 'p5']);
    const mean = (200 + 800 + 300 + 260) / 4;
    expect(find(network, 'p2').contactOhm).toBeCloseTo(800 - mean, 6);
    expect(find(network, 'p0').contactOhm).toBeCloseTo(200 - mean, 6);
    expect(find(network, 'p2').sentence).toContain('triangle');
  });

  it('is the same with the ground known: an even round fixes nothing', () => {
    const known = solved(walked(1, 2), GROUND_OHM_M);
    expect(known.seatings.map((one) => one.known)).not.toContain('fixed');
  });

  it('read at two spacings fixes every contact and the ground', () => {
    const both = solved([...walked(1, 2), ...walked(2, 4)]);
    for (const { seating, known, contactOhm } of both.seatings) {
      expect(known).toBe('fixed');
      expect(contactOhm).toBeCloseTo(RODS[seating as keyof typeof RODS], 6);
    }
    expect(both.grounds[0]?.groundOhmM).toBeCloseTo(GROUND_OHM_M, 5);
    expect(both.degreesOfFreedom).toBe(11 - 8);
    expect(both.chiSquare).toBeLessThan(1e-12);
  });

  it('falls back to kinds where one rod was driven anew between its two readings', () => {
    const links = walked(1, 2).map((one, i) => (i === 3 ? { ...one, seatings: ['p3 anew', 'p4'] as const } : one));
    const split = solved(links);
    expect(find(split, 'p3').among).toEqual(['p1', 'p3']);
    expect(find(split, 'p3 anew').among).toEqual(['p3 anew', 'p5']);
    expect(find(split, 'p4').among).toEqual(['p4', 'p6']);
  });
});

describe('a triangle of rods', () => {
  const triangle = [link(RODS, 'p0', 'p1', 2), link(RODS, 'p1', 'p2', 2), link(RODS, 'p0', 'p2', 4)];

  it('fixes all three once the ground is known (a round of an odd number)', () => {
    const network = solved(triangle, GROUND_OHM_M);
    expect(find(network, 'p2')).toMatchObject({ known: 'fixed', sentence: '' });
    expect(find(network, 'p2').contactOhm).toBeCloseTo(800, 8);
    // Rc = (R01 + R02 − R12)/2: three readings of 2 Ω give √3·2/2.
    expect(find(network, 'p2').sigmaOhm).toBeCloseTo(Math.sqrt(3), 8);
  });

  it('does not with the ground unknown', () => {
    expect(solved(triangle).seatings.map(({ known }) => known)).not.toContain('fixed');
  });

  it('fixes what hangs on it too, but not a pair that stands apart', () => {
    const apart = { q0: 100, q1: 150 };
    const network = solved([...triangle, link(RODS, 'p2', 'p5', 8), link(apart, 'q0', 'q1', 2)], GROUND_OHM_M);
    expect(find(network, 'p5').contactOhm).toBeCloseTo(240, 8);
    expect(find(network, 'q0')).toMatchObject({ known: 'not_known', contactOhm: null, among: [] });
    expect(find(network, 'q1').known).toBe('not_known');
  });
});

describe('a ladder about a common rod', () => {
  const ladder = [link(RODS, 'p0', 'p1', 2), link(RODS, 'p0', 'p2', 4), link(RODS, 'p0', 'p3', 8)];

  it('cannot fix the common rod, only the others against each other, and these only with the ground known', () => {
    const known = solved(ladder, GROUND_OHM_M);
    expect(find(known, 'p0').known).toBe('not_known');
    expect(find(known, 'p2').among).toEqual(['p1', 'p2', 'p3']);
    expect(find(known, 'p2').contactOhm).toBeCloseTo(800 - (250 + 800 + 220) / 3, 8);
    expect(solved(ladder).seatings.map((one) => one.known)).toEqual([
      'not_known',
      'not_known',
      'not_known',
      'not_known',
    ]);
  });
});

describe('a network of noisy readings', () => {
  it('gives contacts with errors that are as large as they say', () => {
    const chance = normalNumbers(8);
    const exact = [...walked(1, 2), ...walked(2, 4), ...walked(3, 6)];
    let sum = 0;
    let count = 0;
    for (let i = 0; i < 400; i += 1) {
      const noisy = exact.map((one) => ({ ...one, resistanceOhm: one.resistanceOhm + one.sigmaOhm * chance() }));
      for (const { seating, contactOhm, sigmaOhm } of solved(noisy).seatings) {
        const truth = RODS[seating as keyof typeof RODS];
        sum += (((contactOhm ?? Number.NaN) - truth) / (sigmaOhm ?? Number.NaN)) ** 2;
        count += 1;
      }
    }
    // Mean of squares of normal numbers: 1, over 400 nets within 3 of their standard errors.
    expect(sum / count).toBeGreaterThan(0.85);
    expect(sum / count).toBeLessThan(1.15);
  });

  it('takes a ground of its own for each stretch that is named', () => {
    const links = [...walked(1, 2), ...walked(2, 4)].map((one) => ({
      ...one,
      ground: one.spacingM === 2 ? 'near' : 'far',
    }));
    const { grounds } = solved(links);
    expect(grounds.map(({ ground }) => ground)).toEqual(['near', 'far']);
    // One spacing in each: raising both grounds and all contacts together goes unnoticed.
    expect(grounds.map(({ fixed }) => fixed)).toEqual([false, false]);
  });

  it('refuses what is no network', () => {
    expect(contactNetwork([])).toMatchObject({ ok: false, code: 'no_readings' });
    expect(contactNetwork([link(RODS, 'p0', 'p0', 2)])).toMatchObject({ ok: false, code: 'rod_against_itself' });
    const sure = [{ ...link(RODS, 'p0', 'p1', 2), sigmaOhm: 0 }];
    expect(contactNetwork(sure)).toMatchObject({ ok: false, code: 'sigma_not_positive' });
  });
});

interface Walk {
  readonly spacingsM?: readonly number[];
  readonly stations?: number;
  readonly noise?: number;
  readonly seed?: number;
  readonly relativeSigma?: number | null;
  /** Name of the rod at a chainage for a reading: the same for all unless it was driven anew. */
  readonly seating?: (chainageM: number, midpointM: number, spacingM: number) => string | null;
  readonly change?: (reading: Omit<FollowedReading, 'figure'>) => number;
}

/** Two-probe readings along a line, rods every 2 m. */
function walk(options: Walk): FollowedReading[] {
  const { spacingsM = [2], stations = 20, noise = 0.03, seed = 1, relativeSigma = 0.03 } = options;
  const seatingOf = options.seating ?? ((chainageM: number) => `rod ${chainageM}`);
  const chance = normalNumbers(seed);
  const readings: FollowedReading[] = [];
  for (const spacingM of spacingsM) {
    for (let i = 0; 2 * i + spacingM <= 2 * stations; i += 1) {
      const [from, to] = [2 * i, 2 * i + spacingM];
      const midpointM = (from + to) / 2;
      const seatings = [seatingOf(from, midpointM, spacingM), seatingOf(to, midpointM, spacingM)] as const;
      const bare = { spacingM, midpointM, probesM: [from, to] as const, seatings, relativeSigma };
      const change = options.change?.(bare) ?? 1;
      readings.push({ ...bare, figure: 450 * spacingM * change * Math.exp(noise * chance()) });
    }
  }
  return readings;
}

describe('a change along a two-probe line', () => {
  it('that both readings of one rod share follows the probe', () => {
    const readings = walk({ change: ({ probesM }) => (probesM.includes(20) ? 1.3 : 1) });
    const found = followsWhat(readings);
    expect(found).toMatchObject({ verdict: 'probe', chainageM: 20, cause: 'either', seating: 'rod 20' });
    expect(found.ratio).toBeGreaterThan(1.2);
    expect(found.ratio).toBeLessThan(1.4);
  });

  it('that all spacings over one midpoint share follows the midpoint', () => {
    const readings = walk({ spacingsM: [2, 6, 10], change: ({ midpointM }) => (midpointM === 21 ? 0.8 : 1) });
    expect(followsWhat(readings)).toMatchObject({ verdict: 'midpoint', chainageM: 21, cause: null, seating: null });
  });

  it('of a single reading cannot be told when its rods were driven for it alone', () => {
    const readings = walk({
      seating: (chainageM, midpointM) => `${chainageM} for ${midpointM}`,
      change: ({ midpointM }) => (midpointM === 21 ? 1.3 : 1),
    });
    const found = followsWhat(readings);
    expect(found).toMatchObject({ verdict: 'cannot_tell', chainageM: null, ratio: null });
    expect(found.criteria.none - found.criteria.midpoint).toBeGreaterThan(4);
  });

  it('goes with the driving when it is gone once the rod was driven anew', () => {
    const readings = walk({
      spacingsM: [2, 4, 6],
      seating: (chainageM, _midpoint, spacingM) => `${chainageM} ${spacingM === 6 ? 'anew' : 'first'}`,
      change: ({ seatings }) => (seatings.includes('20 first') ? 1.3 : 1),
    });
    expect(followsWhat(readings)).toMatchObject({
      verdict: 'probe',
      cause: 'seating',
      seating: '20 first',
      chainageM: 20,
    });
  });

  it('stays with the site when every driving there shows it', () => {
    const readings = walk({
      spacingsM: [2, 4, 6],
      seating: (chainageM, _midpoint, spacingM) => `${chainageM} at ${spacingM}`,
      change: ({ probesM }) => (probesM.includes(20) ? 1.3 : 1),
    });
    expect(followsWhat(readings)).toMatchObject({ verdict: 'probe', cause: 'site', seating: null, chainageM: 20 });
  });

  it('is found by the scatter alone where no error was stated', () => {
    const readings = walk({ relativeSigma: null, change: ({ probesM }) => (probesM.includes(20) ? 1.3 : 1) });
    expect(followsWhat(readings)).toMatchObject({ verdict: 'probe', chainageM: 20 });
  });

  it('is seen in noise alone in fewer than one line of twenty', () => {
    let seen = 0;
    for (let seed = 1; seed <= 400; seed += 1) {
      const readings = walk({ spacingsM: [2, 4, 8], seed, relativeSigma: seed % 2 === 0 ? 0.03 : null });
      if (followsWhat(readings).verdict !== 'none') seen += 1;
    }
    expect(seen / 400).toBeLessThan(0.05);
  });

  it('is told right wherever it is told, for changes of 15 to 40 %', () => {
    const even = evenNumbers(3);
    const told = { right: 0, wrong: 0, not: 0 };
    for (let seed = 1; seed <= 200; seed += 1) {
      const byProbe = seed % 2 === 0;
      const size = 1.15 + 0.25 * even();
      const at = 10 + 2 * Math.floor(10 * even());
      const readings = walk({
        spacingsM: [2, 6, 10],
        seed,
        change: ({ probesM, midpointM }) => ((byProbe ? probesM.includes(at) : midpointM === at + 1) ? size : 1),
      });
      const { verdict, chainageM } = followsWhat(readings);
      if (verdict === 'cannot_tell' || verdict === 'none') told.not += 1;
      else if (verdict === (byProbe ? 'probe' : 'midpoint') && chainageM === (byProbe ? at : at + 1)) told.right += 1;
      else told.wrong += 1;
    }
    expect(told.wrong).toBeLessThanOrEqual(4);
    expect(told.right).toBeGreaterThan(150);
  });

  it('cannot be told from readings that all differ in spacing, or from none', () => {
    const ladder = walk({ spacingsM: [2, 4, 8] }).filter(({ probesM }) => probesM[0] === 0);
    expect(ladder).toHaveLength(3);
    expect(followsWhat(ladder).verdict).toBe('cannot_tell');
    expect(followsWhat([]).verdict).toBe('cannot_tell');
  });
});
