import { describe, expect, it } from 'vitest';
import { appraise } from '../../src/appraise';
import { nextReadings } from '../../src/evidence/next-readings';
import { clustersOf } from '../../src/evidence/zone-clusters';
import { likelySitesOf, sitesOf } from '../../src/evidence/zone-sites';
import { type SearchedVoid, zonesOf } from '../../src/evidence/zones';
import type { LineFindings, MidpointFinding } from '../../src/findings';
import { demoContent } from '../app/demo-content';
import { judged, madeFinding, madeLineFindings } from '../figures/made-findings';

/** A line along the equator, 1 m of chainage to 9e-6° of longitude; probes half a spacing to either side. */
const at = (chainageM: number, spacingM: number, said: Partial<MidpointFinding> = {}): MidpointFinding =>
  madeFinding({
    chainageM,
    spacingM,
    aM: chainageM - spacingM / 2,
    mM: chainageM + spacingM / 2,
    depthM: 0.87 * spacingM,
    ...said,
  });
const line = (midpoints: readonly MidpointFinding[]): LineFindings => madeLineFindings(midpoints, { name: 'X' });
const high = judged(1.4, 'clear');
const low = { ...judged(0.8, 'slight'), sign: 'below_reference' as const };
const quiet = (spacingM: number): MidpointFinding[] => [3, 4, 5, 6, 7, 8, 9].map((chainage) => at(chainage, spacingM));
const withHighs = (spacingM: number, highs: readonly number[]): MidpointFinding[] =>
  quiet(spacingM).map((midpoint) => (highs.includes(midpoint.chainageM) ? { ...midpoint, ...high } : midpoint));

describe('where the cause of a graded midpoint may lie', () => {
  it('is at either probe for a pole-pole high, and under the midpoint for a low', () => {
    expect(sitesOf(at(5, 4, high))).toEqual([
      { fromM: 2.5, toM: 3.5 },
      { fromM: 6.5, toM: 7.5 },
    ]);
    expect(sitesOf(at(5, 4, low))).toEqual([{ fromM: 4.5, toM: 5.5 }]);
    expect(sitesOf(at(5, 4, { ...high, hookup: 'wenner_alpha' }))).toEqual([{ fromM: 4.5, toM: 5.5 }]);
  });

  it('is at the probe that other readings point to, and at both where none does', () => {
    const [first, second] = likelySitesOf([at(5, 4, high), at(9, 4, high)]);
    expect(first).toEqual([{ fromM: 6.5, toM: 7.5 }]);
    expect(second).toEqual([{ fromM: 6.5, toM: 7.5 }]);
    expect(likelySitesOf([at(5, 4, high)])[0]).toHaveLength(2);
  });
});

describe('a cluster', () => {
  it('is neighbours that stand out together; one alone is none', () => {
    expect(clustersOf(line(withHighs(2, [5])))).toEqual([]);
    expect(clustersOf(line(withHighs(2, [5, 6])))[0]?.map(({ chainageM }) => chainageM)).toEqual([5, 6]);
    expect(clustersOf(line(withHighs(2, [4, 7])))).toEqual([]);
  });

  it('holds the next spacing at the same place, and takes in what points to its place', () => {
    const wide = withHighs(4, [5]);
    const own = clustersOf(line([...withHighs(2, [5]), ...wide]));
    expect(own).toHaveLength(1);
    const far = clustersOf(line([...withHighs(1, [5, 6]), ...quiet(2), ...withHighs(4, [8])]));
    // At 4 m one probe of the reading at 8 m stands at 6 m.
    expect(far[0]?.map(({ spacingM }) => spacingM)).toEqual([1, 1, 4]);
  });

  it('never joins two-probe hints with proper readings', () => {
    const hints = withHighs(2, [5, 6]).map(
      (m): MidpointFinding => ({ ...m, hookup: 'two_probe', figureKind: 'two_probe', bM: m.mM, key: `${m.key}:t` }),
    );
    const groups = clustersOf(line([...withHighs(2, [5, 6]), ...hints]));
    expect(groups.map((group) => new Set(group.map(({ figureKind }) => figureKind)).size)).toEqual([1, 1]);
  });
});

const searched = (own: LineFindings, said: Partial<SearchedVoid> = {}): SearchedVoid => ({
  verdict: 'void_like',
  crossings: [{ lineId: own.lineId, chainageM: { best: 5.4, low95: 5, high95: 5.8 } }],
  depthM: { best: 2.5, low95: 2, high95: 3 },
  radiusM: { best: 1.2, low95: 1, high95: 1.5 },
  chanceOfNoVoid: 0.005,
  midpoints: own.midpoints.filter(({ grade }) => grade === 'clear').map(({ key }) => key),
  ...said,
});

describe('a zone', () => {
  const own = line(withHighs(2, [5, 6]));

  it('is unresolved by grades alone, whatever their number', () => {
    const [zone, ...others] = zonesOf([line(withHighs(2, [4, 5, 6, 7, 8]))], []);
    expect(others).toEqual([]);
    expect(zone).toMatchObject({ verdict: 'unresolved', basis: 'grades', highs: 5, lows: 0, chanceOfNoVoid: null });
    expect(zone?.peakRatio).toBe(1.4);
  });

  it('is contact-like where most of its readings are doubted as contact', () => {
    const doubted = own.midpoints.map((m) => ({ ...m, doubts: ['contact_suspected' as const] }));
    expect(zonesOf([line(doubted)], [])[0]?.verdict).toBe('contact_like');
  });

  it('takes the verdict of a search that found something there, and its ranges', () => {
    const [zone, ...others] = zonesOf([own], [searched(own)]);
    expect(others).toEqual([]);
    expect(zone).toMatchObject({
      verdict: 'void_like',
      basis: 'search',
      depthM: { best: 2.5, low95: 2, high95: 3 },
      chanceOfNoVoid: 0.005,
    });
    // The fit: 5 − 1.5 to 5.8 + 1.5 m, within the footprint.
    expect(zone?.footprint[0]?.fromM).toBeLessThanOrEqual(3.5);
    expect(Math.max(...(zone?.footprint ?? []).map(({ toM }) => toM))).toBeGreaterThanOrEqual(7.3);
  });

  it('of two-probe hints never becomes void-like, not even under a search', () => {
    const hints = line(
      withHighs(2, [5, 6]).map(
        (m): MidpointFinding => ({ ...m, hookup: 'two_probe', figureKind: 'two_probe', bM: m.mM }),
      ),
    );
    const zones = zonesOf([hints], [searched(hints, { midpoints: [] })]);
    const ofLeads = zones.filter(({ figureKind }) => figureKind === 'two_probe');
    expect(ofLeads).toHaveLength(1);
    expect(ofLeads[0]?.verdict).not.toBe('void_like');
  });

  it('says what it is, what else it could be, and never that ground is safe or what fills it', () => {
    const paragraph = zonesOf([own], [searched(own)])[0]?.paragraph ?? '';
    expect(paragraph).toContain('does not prove a void');
    expect(paragraph).toContain('licensed practice');
    expect(paragraph).not.toMatch(/safe|water|clay|air-filled/i);
  });
});

describe('the next readings', () => {
  const own = line(withHighs(2, [5, 6]));
  const zones = zonesOf([own], [searched(own)]);
  const asked = { zones, lines: [own], useful: [], rims: [], settings: { standardErrorFloor: 0.03 } };

  it('are at most five, the most telling first, each with what every explanation lets expect', () => {
    const proposed = nextReadings(asked);
    expect(proposed.length).toBeGreaterThan(0);
    expect(proposed.length).toBeLessThanOrEqual(5);
    expect(proposed[0]).toMatchObject({
      kind: 'nudge_and_repeat',
      expected: { void: 1.4, contact: 1, uneven_soil: 1.4 },
    });
    // Two readings of 3 % each: ln 1.4 over 0.03·√2.
    expect(proposed[0]?.separation).toBeCloseTo(Math.log(1.4) / (0.03 * Math.SQRT2), 6);
    expect(proposed.map(({ separation }) => separation)).toEqual(
      proposed.map(({ separation }) => separation).sort((p, q) => q - p),
    );
  });

  it('take what a search holds useful', () => {
    const useful = [
      {
        lineId: own.lineId,
        chainageM: 5,
        spacingM: 3,
        hookup: 'pole_pole' as const,
        probesM: [3.5, 6.5],
        ifVoid: 1.3,
        ifNot: 1.02,
      },
    ];
    const found = nextReadings({ ...asked, useful }).find(({ kind }) => kind === 'fill_spacing');
    expect(found).toMatchObject({
      chainageM: 5,
      spacingM: 3,
      expected: { void: 1.3, contact: null, uneven_soil: 1.02 },
    });
  });

  it('tell a place between the midpoints from a spacing that the line does not have', () => {
    const between = { lineId: own.lineId, chainageM: 5.5, hookup: 'pole_pole' as const, ifVoid: 1.5, ifNot: 1 };
    const kinds = [2, 3].map((spacingM) => {
      const useful = [{ ...between, spacingM, probesM: [5.5 - spacingM / 2, 5.5 + spacingM / 2] }];
      return nextReadings({ ...asked, useful }).find(({ chainageM }) => chainageM === 5.5)?.kind;
    });
    expect(kinds).toEqual(['half_step', 'fill_spacing']);
  });

  it('never have a rod inside a rim distance', () => {
    const [place] = own.track;
    const rims = [{ lon: place?.lon ?? 0, lat: place?.lat ?? 0, distanceM: 1e5 }];
    expect(nextReadings({ ...asked, rims })).toEqual([]);
  });
});

describe('the zones of the demo by grades', () => {
  const { survey, findings } = demoContent();

  it('lie over the passage on the lines that cross it', () => {
    const names = new Map(findings.lines.map(({ lineId, name }) => [lineId, name]));
    for (const [name, crossedM] of [
      ['A', 18.54],
      ['B', 20.41],
      ['C', 13.39],
    ] as const) {
      const over = findings.zones.filter(({ footprint }) =>
        footprint.some((piece) => names.get(piece.lineId) === name && piece.fromM <= crossedM && piece.toM >= crossedM),
      );
      expect(over, name).toHaveLength(1);
    }
    expect(findings.zones.filter(({ verdict }) => verdict === 'void_like')).toEqual([]);
  });

  it('come out the same from the same survey', () => {
    expect(appraise(survey, findings.provenance.settings).zones).toEqual(findings.zones);
  });
});
