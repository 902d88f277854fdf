import { describe, expect, it } from 'vitest';
import { causeOf, doubtsOfReading } from '../../src/app/state/doubts-of';
import { ladderOf } from '../../src/app/state/ladder';
import { readingIndex } from '../../src/app/state/reading-index';
import { selectedPlaces } from '../../src/app/state/selected-places';
import { spacingsIn, spacingsOf } from '../../src/app/state/spacings';
import { strongestFirst } from '../../src/app/state/strongest';
import { midpointSidOf } from '../../src/exchange/write/layer-collection';
import { demoContent } from './demo-content';

const content = demoContent();
const index = readingIndex(content.survey, content.findings);

describe('the index of readings', () => {
  it('finds the reading of every stroke and midpoint, laid either way', () => {
    for (const drape of ['midpoint', 'probes'] as const) {
      const { survey, findings, layers } = demoContent(drape);
      const { bySid } = readingIndex(survey, findings);
      expect(layers.segments.features.length).toBeGreaterThan(1000);
      for (const { properties } of [...layers.segments.features, ...layers.midpoints.features]) {
        const entry = bySid.get(midpointSidOf(String(properties.sid)));
        if (!entry) throw new Error(`nothing for ${properties.sid}`);
        expect(entry.line.name).toBe(properties.line);
        expect(entry.finding.chainageM).toBeCloseTo(Number(properties.chainage_m), 3);
        expect(entry.finding.spacingM).toBe(properties.spacing_m);
        expect(entry.finding.grade).toBe(properties.grade);
      }
    }
  });

  it('finds the electrode of every point in its layer', () => {
    for (const { properties, geometry } of content.layers.electrodes.features) {
      const entry = index.electrodeBySid.get(String(properties.sid));
      if (!entry || geometry.type !== 'Point') throw new Error(`nothing for ${properties.sid}`);
      expect(entry.line.name).toBe(properties.line);
      expect(entry.electrode.role).toBe(properties.role);
      expect(entry.electrode.lon).toBeCloseTo(geometry.coordinates[0] ?? 0, 6);
    }
  });

  it('has what the meter showed for each reading', () => {
    expect(index.entries.every(({ shown, finding }) => shown.length === finding.readings.length)).toBe(true);
    expect(index.entries.some(({ shown }) => shown.some((text) => text.startsWith('over range')))).toBe(true);
  });
});

describe('what is listed', () => {
  it('has the strongest findings first and every lead behind them', () => {
    const listed = strongestFirst(index.entries);
    const rank = { none: 0, slight: 1, clear: 2, strong: 3 };
    const findings = listed.filter(({ finding }) => finding.figureKind !== 'two_probe');
    const grades = findings.map(({ finding }) => rank[finding.grade ?? 'none']);
    expect(grades).toEqual([...grades].sort((a, b) => b - a));
    expect(Math.min(...grades)).toBe(1);
    const firstLead = listed.findIndex(({ finding }) => finding.figureKind === 'two_probe');
    expect(firstLead).toBe(findings.length);
  });

  it('offers every spacing that was read, the narrowest first', () => {
    expect(spacingsOf(index.entries)).toEqual([1, 2, 3, 5, 8, 12]);
    expect(spacingsIn(content.findings)).toEqual([1, 2, 3, 5, 8, 12]);
  });

  it('has all spacings of a place in its ladder, by growing spacing', () => {
    const entry = index.entries.find(({ line, finding }) => line.name === 'A' && finding.chainageM === 18);
    if (!entry) throw new Error('no reading there');
    const ladder = ladderOf(index, entry).map(({ finding }) => finding.spacingM);
    expect(ladder).toEqual([1, 2, 3, 5, 8, 12]);
  });
});

describe('doubts', () => {
  it('lead to a reading that they are about', () => {
    for (const doubt of content.findings.doubts) {
      const cause = causeOf(doubt, index);
      if (doubt.readings.length > 0) {
        expect(cause?.finding.readings.some((id) => doubt.readings.includes(id))).toBe(true);
      } else {
        expect(cause).toBeNull();
      }
    }
  });

  it('of a reading have the gravest first, and only its own', () => {
    const doubted = index.entries.filter((entry) => entry.doubted);
    expect(doubted.length).toBeGreaterThan(0);
    for (const { finding, line } of doubted) {
      const doubts = doubtsOfReading(content.findings, finding, line.lineId);
      expect(doubts[0]?.severity).not.toBe('note');
      for (const doubt of doubts) {
        const own = doubt.readings.some((id) => finding.readings.includes(id));
        expect(own || (doubt.readings.length === 0 && doubt.line === line.lineId)).toBe(true);
      }
    }
  });
});

describe('what stands out on the map for a reading', () => {
  it('is each probe on the line, and the circle of its uncertainty', () => {
    const entry = index.entries.find(({ finding }) => finding.hookup === 'wenner_alpha' && finding.spacingM === 5);
    if (!entry) throw new Error('no such reading');
    const { features } = selectedPlaces(entry.finding, entry.line);
    expect(features.map(({ properties }) => properties?.label ?? 'circle')).toEqual(['A', 'M', 'N', 'B', 'circle']);
  });

  it('has one mark where two roles share a rod', () => {
    const entry = index.entries.find(({ finding }) => finding.hookup === 'two_probe');
    if (!entry) throw new Error('no such reading');
    const { features } = selectedPlaces(entry.finding, entry.line);
    expect(features.filter(({ geometry }) => geometry.type === 'Point')).toHaveLength(2);
  });
});
