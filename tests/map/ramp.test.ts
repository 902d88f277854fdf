import { describe, expect, it } from 'vitest';
import { RAMP_KEYS, RAMP_STROKE, RAMP_WIDTH_PX, type RampKey, rampKey, rampRank, THEMES } from '../../src/map/ramp';
import { COLOUR_VISIONS, colourDifference, lightness, seenBy } from './colour-vision';

const ARMS: readonly (readonly RampKey[])[] = [
  ['none', 'slight_above', 'clear_above', 'strong_above'],
  ['none', 'slight_below', 'clear_below', 'strong_below'],
];

describe('the ramp', () => {
  for (const theme of THEMES) {
    for (const vision of COLOUR_VISIONS) {
      it(`keeps every two strokes apart under ${vision} in the ${theme} theme`, () => {
        const close = RAMP_KEYS.flatMap((first, i) =>
          RAMP_KEYS.slice(i + 1).flatMap((second) => {
            const difference = colourDifference(
              seenBy(vision, RAMP_STROKE[theme][first]),
              seenBy(vision, RAMP_STROKE[theme][second]),
            );
            return difference < 15 ? [`${first} and ${second}: ${difference.toFixed(1)}`] : [];
          }),
        );
        expect(close).toEqual([]);
      });
    }

    it(`tells the grades of each arm by lightness alone in the ${theme} theme`, () => {
      const away = theme === 'dark' ? 1 : -1;
      for (const arm of ARMS) {
        const steps = arm.slice(1).map((key, i) => {
          const before = arm[i];
          if (!before) throw new Error('an arm begins at none');
          return (lightness(RAMP_STROKE[theme][key]) - lightness(RAMP_STROKE[theme][before])) * away;
        });
        expect(Math.min(...steps)).toBeGreaterThan(7);
      }
    });
  }

  it('widens with the grade, alike on both arms', () => {
    for (const arm of ARMS) {
      const widths = arm.map((key) => RAMP_WIDTH_PX[key]);
      expect(widths).toEqual([...widths].sort((a, b) => a - b));
      expect(new Set(widths).size).toBe(widths.length);
    }
    expect(RAMP_WIDTH_PX.strong_above).toBe(RAMP_WIDTH_PX.strong_below);
  });

  it('is found by grade and sign', () => {
    expect(rampKey({ grade: 'strong', sign: 'above_reference' })).toBe('strong_above');
    expect(rampKey({ grade: 'slight', sign: 'below_reference' })).toBe('slight_below');
    expect(rampKey({ grade: 'none', sign: 'below_reference' })).toBe('none');
  });

  it('keeps a reading over range apart from one that nothing could be compared with', () => {
    expect(rampKey({ grade: null, figure_ohm_m: null, doubts: 'single_reading;over_range' })).toBe('over_range');
    expect(rampKey({ grade: null, figure_ohm_m: 120, doubts: 'outside_reference' })).toBe('not_graded');
    expect(rampKey({ grade: 'enormous', sign: 'above_reference' })).toBe('not_graded');
  });

  it('draws the strongest last', () => {
    expect(rampRank('strong_below')).toBeGreaterThan(rampRank('clear_above'));
    expect(rampRank('slight_above')).toBeGreaterThan(rampRank('none'));
    expect(rampRank('none')).toBeGreaterThan(rampRank('not_graded'));
  });
});
