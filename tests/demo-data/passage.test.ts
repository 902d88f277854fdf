import { describe, expect, it } from 'vitest';
import { emptyBody } from '../../demo-data/synthesis/empty-body';
import { type Place3, tubeMesh } from '../../demo-data/synthesis/tube-mesh';
import { createVoidModel } from '../../src/ground/void-response';
import { roundPassage } from '../../src/ground/void-shape';

/** Two electrodes on the surface, `spacingM` apart about `offsetM` from the axis, the others far away. */
const poles = (offsetM: number, spacingM: number) => ({
  a: [offsetM - spacingM / 2, 0, 0] as const,
  b: null,
  m: [offsetM + spacingM / 2, 0, 0] as const,
  n: null,
});

describe('the passage of the demo', () => {
  it('that is straight answers as the boundary elements of the program do', () => {
    const [radiusM, depthM] = [1.45, 2.5];
    const axis: Place3[] = [
      [0, -20, depthM],
      [0, 20, depthM],
    ];
    const [coarse, fine] = [3, 4].map((cut) => emptyBody(tubeMesh(axis, radiusM, { cut, finestAt: [0, 0, depthM] })));
    const model = createVoidModel(roundPassage(radiusM, 40), depthM);
    if (!model.ok || !coarse || !fine) throw new Error('no model');
    const electrodes = [1, 2, 3, 5, 8, 12].flatMap((spacing) =>
      [0, spacing / 2].map((offset) => poles(offset, spacing)),
    );
    const answer = model.value.answer({
      place: { xM: 0, yM: 0, depthM, bearingDeg: 90 },
      hostOhmM: 600,
      fillOhmM: Number.POSITIVE_INFINITY,
      electrodes,
    });
    if (!answer.ok) throw new Error(answer.sentence);
    electrodes.forEach((each, i) => {
      // Richardson's, for an error that shrinks as 1/cut².
      const extrapolated = fine.ratio(each) + ((fine.ratio(each) - coarse.ratio(each)) * 9) / 7;
      // Far under the 3 % of noise that the readings carry.
      expect(Math.abs(extrapolated - (answer.value[i]?.ratio ?? 0))).toBeLessThan(0.0015);
    });
  });
});
