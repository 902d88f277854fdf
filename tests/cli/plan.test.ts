import { describe, expect, it } from 'vitest';
import { roundPassage } from '../../src/ground/void-shape';
import { planReadings } from '../../src/studies/plan';
import { runCli } from '../helpers/run-cli';

const PASSAGE = ['--void', 'passage', '--radius', '1', '--depth', '2'];
const CHAMBER = ['--void', 'chamber', '--radius', '1', '--depth', '2'];

describe('hollowline plan', () => {
  it('answers by the contract, with what the study says', async () => {
    const ran = await runCli(
      'plan',
      '--hookup',
      'pole-pole',
      '--spacings',
      '2,4',
      '--offsets',
      '0,2.5',
      ...PASSAGE,
      '--json',
    );
    expect(ran).toMatchObject({ code: 0, stderr: '' });
    const study = planReadings({
      hookup: 'pole_pole',
      spacingsM: [2, 4],
      offsetsM: [0, 2.5],
      n: 1,
      ground: {
        kind: 'void',
        shape: roundPassage(1, 40),
        depthM: 2,
        bearingDeg: 90,
        fillOhmM: Number.POSITIVE_INFINITY,
        hostOhmM: 500,
      },
    });
    if (!study.ok) throw new Error(study.sentence);
    expect(JSON.parse(ran.stdout).readings).toEqual(
      study.value.map(({ spacingM, offsetM, ratio, ratioError, figureOhmM }) => ({
        spacing_m: spacingM,
        offset_m: offsetM,
        ratio: expect.closeTo(ratio as number, 4),
        ratio_error: expect.closeTo(ratioError as number, 4),
        figure_ohm_m: expect.closeTo(figureOhmM, 1),
      })),
    );
  });

  it('writes no more digits than are worth reading', async () => {
    const [spacings, noise] = [
      ['--spacings', '2,4'],
      ['--noise', '0.05'],
    ];
    const { stdout } = await runCli('plan', '--hookup', 'pole-pole', ...spacings, ...PASSAGE, ...noise, '--json');
    const numbers = stdout.match(/-?\d+\.\d+/g) ?? [];
    expect(numbers.length).toBeGreaterThan(20);
    expect(numbers.filter((text) => (text.split('.')[1] as string).length > 6)).toEqual([]);
    expect(numbers.filter((text) => text.replace(/^-?0?\.?0*/, '').replace('.', '').length > 7)).toEqual([]);
  });

  it('takes offsets on both sides, the first with a minus', async () => {
    const ran = await runCli(
      'plan',
      '--hookup',
      'pole-pole',
      '--spacings',
      '4',
      '--offsets',
      '-2.5,0,2.5',
      ...PASSAGE,
      '--json',
    );
    expect(ran).toMatchObject({ code: 0, stderr: '' });
    const readings: { offset_m: number; ratio: number }[] = JSON.parse(ran.stdout).readings;
    expect(readings.map(({ offset_m }) => offset_m)).toEqual([-2.5, 0, 2.5]);
    expect(readings[0]?.ratio).toBeCloseTo(readings[2]?.ratio as number, 9);
  });

  it('reads layers and rods, and says how to look for a void in words', async () => {
    const layers = await runCli(
      'plan',
      '--hookup',
      'wenner_alpha',
      '--spacings',
      '2',
      '--layers',
      '100:1,1000:3,100',
      '--json',
    );
    expect(JSON.parse(layers.stdout).readings[0].apparent_resistivity_ohm_m).toBeCloseTo(216.494922, 4);
    const rods = ['--rho', '100', '--rod-length', '0.3', '--rod-radius', '0.005'];
    const two = await runCli('plan', '--hookup', 'two-probe', '--spacings', '20', ...rods, '--json');
    expect(JSON.parse(two.stdout).readings[0].resistance_ohm).toBeCloseTo(473.819, 3);
    const words = (await runCli('plan', '--hookup', 'pole-pole', '--spacings', '2', ...PASSAGE)).stdout;
    expect(words).toContain('It shows best at');
    expect(words).toContain('No reading at all is no proof of sound ground.');
  });

  it.each([
    [['--spacings', '2', ...PASSAGE], '--hookup'],
    [['--hookup', 'pole-pole', '--spacings', '2'], 'one ground'],
    [['--hookup', 'pole-pole', '--spacings', '2,x', ...PASSAGE], '--spacings'],
    [['--hookup', 'pole-pole', '--spacings', '2', '--layers', '100:1'], '--layers'],
    [['--hookup', 'two-probe', '--spacings', '2', ...PASSAGE], 'mostly the contact'],
    [['--hookup', 'two-probe', '--spacings', '2', ...PASSAGE], '0.'],
    [['--hookup', 'pole-pole', '--spacings', '2', '--void', 'cave', '--radius', '1', '--depth', '2'], '--void'],
    [['--hookup', 'pole-pole', '--spacings', '2', '--void', 'chamber', '--radius', '3', '--depth', '2'], 'no roof'],
    [['--hookup', 'pole-pole', '--spacings', '2', ...PASSAGE, '--n', '2'], '--n: read "2"; expected this left out'],
    [['--hookup', 'pole-pole', '--spacings', '2', '--layers', '100:1,50', '--fill', 'air'], '--fill'],
    [['--hookup', 'pole-pole', '--spacings', '2', '--layers', '100:1,50', '--noise', '0.1'], '--noise'],
    [['--hookup', 'pole-pole', '--spacings', '2', ...CHAMBER, '--bearing', '45'], 'with --void passage only'],
    [['--hookup', 'pole-pole', '--spacings', '2', ...PASSAGE, '--rod-length', '0.3'], 'with --rho only'],
  ])('refuses %j with one line', async (args, words) => {
    const ran = await runCli('plan', ...args);
    expect(ran.code).toBe(2);
    expect(ran.stdout).toBe('');
    expect(ran.stderr.trim().split('\n')).toHaveLength(1);
    expect(ran.stderr).toContain(words);
  });
});
