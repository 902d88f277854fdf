import { describe, expect, it } from 'vitest';
import { findableSize, searchWords, sectionWords } from '../../src/studies/line-words';
import type { SectionResult } from '../../src/studies/section';
import type { FindableVoid, VoidSearchResult } from '../../src/studies/void-search-answer';

const cell = (resistivityOhmM: number, coverage: number) => ({
  chainageFromM: 0,
  chainageToM: 1,
  depthTopM: 0,
  depthBottomM: 1,
  resistivityOhmM,
  coverage,
});

const reading = (id: string, chainageM: number) => ({
  id,
  chainageM,
  depthM: 1,
  measuredOhmM: 100,
  computedOhmM: 100,
  residualSigma: 0,
  weight: 1,
});

const section: SectionResult = {
  key: 'k',
  line: 'A',
  hookups: ['pole_pole'],
  startOhmM: 200,
  chiSquarePerReading: 1.02,
  iterations: 6,
  converged: true,
  downWeighted: [],
  cells: [cell(110, 0.9), cell(640, 0.5), cell(9000, 0.01)],
  electrodes: [],
  readings: [reading('x', 4), reading('y', 9)],
  depthLimitM: 6.04,
  remarks: [],
};

const search: VoidSearchResult = {
  key: 'k',
  lines: ['A'],
  threshold: 12,
  falseAlarmRate: 0.05,
  simulations: 200,
  relief: { share: 0.2, wavelengthM: 6 },
  candidates: [],
  findable: [],
  useful: [],
  remarks: [],
};

const place = (depthM: number, radiusM: number | null, kind: 'passage' | 'chamber' = 'passage'): FindableVoid => ({
  line: 'A',
  kind,
  chainageM: 0,
  depthM,
  radiusM,
});

describe('what a section says', () => {
  it('gives the range of what the readings vouch for, not of what the smoothing made', () => {
    const said = sectionWords(section).join(' ');
    expect(said).toContain('From 110 to 640 Ω·m');
    expect(said).not.toContain('9000');
    expect(said).toContain('down to 6 m; below that nothing should be read');
  });

  it('says whether it explains the readings, and which it could not', () => {
    expect(sectionWords(section).join(' ')).toContain(
      'It explains the readings within their errors (χ²\u00a01.0 per reading',
    );
    const said = sectionWords({ ...section, converged: false, downWeighted: ['y'] }).join(' ');
    expect(said).toContain('It does not explain the readings');
    expect(said).toContain('1 reading that no section explains counts for less: at 9 m.');
  });

  it('never lets it pass for a proof', () => {
    expect(sectionWords(section).join(' ')).toContain('A void may be no more than a blur in it, or nothing.');
  });
});

describe('what a search says', () => {
  it('says without a candidate what the threshold means, and that it proves nothing', () => {
    const said = searchWords(search);
    expect(said[0]).toMatch(/^Nothing under line A .* on 5 % of such searches/);
    expect(said.at(-1)).toBe('No candidate is no proof of sound ground.');
  });

  it('tells for a few depths how small a void would have shown', () => {
    const findable = [
      place(2, 0.5),
      place(2, 0.9),
      place(2, null, 'chamber'),
      place(4, null),
      place(4, null, 'chamber'),
    ];
    const said = searchWords({ ...search, findable }).join(' ');
    expect(said).toContain('2 m down the smallest found with 80 % is a passage of radius 0.5 to 0.9 m.');
    expect(said).toContain('4 m down no void that was tried would have been found.');
  });

  it('says for how much of the line that holds', () => {
    expect(findableSize([place(2, 0.8), place(2, 0.8), place(2, null), place(2, null)])).toBe(
      '0.8 m along 50 % of the line',
    );
    expect(findableSize([place(2, null)])).toBeNull();
  });
});
