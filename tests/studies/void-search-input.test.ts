import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/findings';
import { layeredApparentOhmM } from '../../src/ground/layered-earth';
import { nominalDistances } from '../../src/ground/layout';
import { voidSearchInputOf } from '../../src/studies/void-search-input';
import type { LineId } from '../../src/survey/ids';
import { demoContent } from '../app/demo-content';

const { survey, findings } = demoContent();
const idOf = (name: string): LineId => {
  const line = findings.lines.find((each) => each.name === name);
  if (!line) throw new Error(`the demo has no line ${name}`);
  return line.lineId;
};
const inputOf = (...names: string[]) => {
  const input = voidSearchInputOf(survey, findings, names.map(idOf));
  if (!input.ok) throw new Error(input.sentence);
  return input.value;
};

describe('the input of the void search', () => {
  it('has every reading of the line that has a value and a reference, by the key of its midpoint', () => {
    const [line] = inputOf('A').lines;
    const due = findings.lines
      .find(({ name }) => name === 'A')
      ?.midpoints.filter(({ figureOhmM, referenceOhmM }) => figureOhmM !== null && referenceOhmM !== null)
      .map(({ key }) => key);
    expect(due?.length).toBeGreaterThan(150);
    expect(line?.readings.filter(({ referenceOhmM }) => referenceOhmM !== null).map(({ id }) => id)).toEqual(due);
  });

  it('puts readings that are compared with one figure of the reference into one group, with one error of it', () => {
    const [line] = inputOf('A').lines;
    const groups = new Map<string, Set<string>>();
    for (const { group, spacingM, referenceOhmM } of line?.readings ?? []) {
      groups.set(group, (groups.get(group) ?? new Set()).add(`${spacingM} ${referenceOhmM?.toPrecision(6)}`));
    }
    expect(groups.size).toBe(6);
    for (const own of groups.values()) expect(own.size).toBe(1);
    for (const { sigmaLn, referenceSigmaLn } of line?.readings ?? []) {
      expect(sigmaLn).toBeGreaterThanOrEqual(findings.provenance.settings.standardErrorFloor);
      expect(referenceSigmaLn).toBeGreaterThan(0);
      expect(referenceSigmaLn).toBeLessThan(0.2);
    }
  });

  it('takes two layers for the ground that read as the reference does, as far as its stations tell', () => {
    // Thickness and resistivity of thin soil go together (equivalence): only what it reads can be held against the demo,
    // which has soil of 180 Ω·m, 0.7 m in the median, on limestone of 600 Ω·m (demo-data/README.md).
    const [line] = inputOf('A').lines;
    const ground = line?.referenceGround ?? { resistivitiesOhmM: [1], thicknessesM: [] };
    expect(ground.resistivitiesOhmM).toHaveLength(2);
    expect(Math.abs(Math.log((ground.resistivitiesOhmM[1] ?? 0) / 600))).toBeLessThan(0.15);
    const truth = { resistivitiesOhmM: [180, 600], thicknessesM: [0.7] };
    for (const { layout, referenceOhmM, referenceSigmaLn } of line?.readings ?? []) {
      if (referenceOhmM === null) continue;
      const distances = nominalDistances(layout);
      expect(Math.abs(Math.log(layeredApparentOhmM(ground, distances) / referenceOhmM))).toBeLessThan(
        3 * referenceSigmaLn,
      );
      // Remote electrodes 400 m away, five stations on uneven soil: some percent off the truth of the median.
      expect(Math.abs(Math.log(layeredApparentOhmM(truth, distances) / referenceOhmM))).toBeLessThan(0.12);
    }
  });

  it('lays lines into one plane, whose metres are those of the tape', () => {
    for (const { places, line } of inputOf('A', 'B', 'C').lines) {
      let length = 0;
      for (const [i, { xM, yM }] of places.entries()) {
        const before = places[i - 1];
        if (before) length += Math.hypot(xM - before.xM, yM - before.yM);
      }
      const due = (places[places.length - 1]?.chainageM ?? 0) - (places[0]?.chainageM ?? 0);
      expect(Math.abs(length / due - 1), line).toBeLessThan(0.03);
    }
  });

  it('refuses two probes, with the reason', () => {
    const refused = voidSearchInputOf(survey, findings, [idOf('T')]);
    expect(refused).toMatchObject({ ok: false, code: 'two_probe_no_search' });
    expect(!refused.ok && refused.sentence).toContain('contact');
  });

  it('refuses a line that is not there, and one that has no place', () => {
    expect(voidSearchInputOf(survey, findings, ['nowhere' as LineId])).toMatchObject({
      ok: false,
      code: 'no_such_line',
    });
    const unplaced: Findings = {
      ...findings,
      lines: [],
      unplaced: [{ lineId: idOf('A'), name: 'A', sentence: 'It has one fix only.' }],
    };
    expect(voidSearchInputOf(survey, unplaced, [idOf('A')])).toMatchObject({ ok: false, code: 'line_not_placed' });
    expect(voidSearchInputOf(survey, findings, [])).toMatchObject({ ok: false, code: 'no_such_line' });
  });

  it('refuses lines that are kilometres apart', () => {
    const far: Findings = {
      ...findings,
      lines: findings.lines.map((line) =>
        line.name === 'B'
          ? { ...line, track: line.track.map((vertex) => ({ ...vertex, lat: vertex.lat + 0.1 })) }
          : line,
      ),
    };
    const refused = voidSearchInputOf(survey, far, [idOf('A'), idOf('B')]);
    expect(refused).toMatchObject({ ok: false, code: 'lines_too_far_apart' });
  });
});
