import { roundChamber, roundPassage, USUAL_PASSAGE_LENGTH_M } from '../ground/void-shape';
import { type PlannedGround, type PlannedReading, planReadings } from '../studies/plan';
import { type PlanAdvice, type PlanTarget, planSurvey } from '../studies/plan-advice';
import { adviceWords, changeText } from '../studies/plan-words';
import { HOOKUPS, type Hookup } from '../survey/hookup';
import { metres, significant } from '../survey/wording';
import { faultOf } from './faults';
import { JSON_HELP, oneOf, parsed } from './options';
import { progress } from './progress';

export const PLAN_HELP = `hollowline plan --hookup H --spacings 2,4,8,20 [--offsets 0,2.5] [--n 1] GROUND [--noise 0.03] [--json]

  What would be read over a ground that you describe. Over a void: also whether it can be seen, and how
  to look for it.
  --hookup H          how the probes are wired: two-probe, pole-pole, wenner-alpha, schlumberger, …
  --spacings A,B,…    spacings in metres: a; AB/2 for Schlumberger (MN is taken as small); the length
                      of a dipole for dipole arrays
  --offsets X,Y,…     midpoints along the line, in metres from the point over the void; without it, 0
  --n N               separation factor, for dipole-dipole and pole-dipole only; without it, 1
  --noise SHARE       how much readings scatter, for the advice: 0.03 is 3 %, and is used without it
${JSON_HELP};
                      readings are spacings × offsets, offsets fastest

  GROUND is one of
  --layers 100:1,1000:3,100
                      flat layers from the top, each RESISTIVITY:THICKNESS in Ω·m and m; the last has
                      no thickness
  --void passage|chamber --radius R --depth D [--length ${USUAL_PASSAGE_LENGTH_M}] [--bearing 90] [--fill air|water|OHM_M] [--host 500]
                      lengths in metres; depth of its axis or centre; bearing is the angle between
                      passage and line in degrees (90: square to it); fill and host (the ground around
                      it) in Ω·m, water is 30 Ω·m
  --rho OHM_M --rod-length M --rod-radius M
                      uniform ground under two probes, in Ω·m and metres; with --hookup two-probe only
  An option that the hookup or the ground has no use for is refused.

  The advice over a void: a ladder on marks of the tape; stations no farther apart than its smallest
  spacing, with two at least on the anomaly; a line to three stations beyond what the void changes by
  the noise; remotes far enough that they cost 5 % at most.

  Assumptions
  - Flat ground, electrodes as points on it, remotes infinitely far, layers even and endless.
  - A void is alone in uniform ground. A passage is straight, level, round and centred on offset 0.
    Soil over a void changes what is seen of it.
  - Two rods feel each other as points.

  Example: hollowline plan --hookup pole-pole --spacings 2,4,8,20 --void passage --radius 1 --depth 2`;

/** Water in limestone: within the 20 to 100 Ω·m of rainfall run-off (Reynolds 2011, table 7.1; a choice within it). */
const WATER_OHM_M = 30;
const USUAL_HOST_OHM_M = 500;
const USUAL_NOISE = 0.03;

const OPTIONS = {
  hookup: { type: 'string' },
  spacings: { type: 'string' },
  offsets: { type: 'string' },
  n: { type: 'string' },
  layers: { type: 'string' },
  void: { type: 'string' },
  radius: { type: 'string' },
  depth: { type: 'string' },
  length: { type: 'string' },
  bearing: { type: 'string' },
  fill: { type: 'string' },
  host: { type: 'string' },
  rho: { type: 'string' },
  'rod-length': { type: 'string' },
  'rod-radius': { type: 'string' },
  noise: { type: 'string' },
  json: { type: 'boolean' },
} as const;

type Given = Readonly<Partial<Record<keyof typeof OPTIONS, string | boolean>>>;

/** `hollowline plan`: exit 0; what cannot be planned is bad input. */
export function plan(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(withSigns(args), OPTIONS);
  if (positionals[0] !== undefined) throw faultOf('arguments', '1', positionals[0], 'options only');
  if (values.hookup === undefined) throw faultOf('arguments', '--hookup', '', `one of ${HOOKUPS.join(', ')}`);
  const hookup = oneOf(values.hookup, HOOKUPS, '--hookup', 'unknown');
  refuseIdle(values, hookup);
  const ground = groundOf(values);
  const tick = progress('plan');
  const n = number(values, 'n', 1);
  const target = targetOf(values, ground);
  const planned = planReadings(
    {
      hookup,
      spacingsM: numbers(values, 'spacings'),
      offsetsM: values.offsets === undefined ? [0] : numbers(values, 'offsets'),
      n,
      ground,
    },
    (fraction) => tick(target ? 0.4 * fraction : fraction),
  );
  if (!planned.ok) throw faultOf('arguments', '1', args.join(' '), `a plan that can be computed. ${planned.sentence}`);
  const advice = target
    ? planSurvey(target, hookup, number(values, 'noise', USUAL_NOISE), n, (fraction) => tick(0.4 + 0.6 * fraction))
    : null;
  if (advice && !advice.ok)
    throw faultOf('arguments', '1', args.join(' '), `a plan that can be computed. ${advice.sentence}`);
  if (values.json) print(JSON.stringify(planDocument(planned.value, advice?.value ?? null), null, 2));
  else print(planText(planned.value, advice?.value ?? null, number(values, 'noise', USUAL_NOISE)));
  return 0;
}

const DIPOLES: readonly Hookup[] = ['dipole_dipole', 'pole_dipole'];

/** An option that would change nothing was meant to: it is refused, and not ignored. */
function refuseIdle(values: Given, hookup: Hookup): void {
  const overVoid = values.void !== undefined;
  const idle: readonly (readonly [keyof typeof OPTIONS, boolean, string])[] = [
    ['n', DIPOLES.includes(hookup), 'dipole_dipole and pole_dipole'],
    ...(['radius', 'depth', 'fill', 'host', 'noise'] as const).map((name) => [name, overVoid, '--void'] as const),
    ...(['length', 'bearing'] as const).map((name) => [name, values.void === 'passage', '--void passage'] as const),
    ...(['rod-length', 'rod-radius'] as const).map((name) => [name, values.rho !== undefined, '--rho'] as const),
  ];
  for (const [name, applies, owner] of idle) {
    if (values[name] === undefined || applies) continue;
    throw faultOf('arguments', `--${name}`, String(values[name]), `this left out: it goes with ${owner} only`);
  }
}

/** A value that begins with a minus is joined to its option, which would else be taken for another option. */
function withSigns(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const [i, arg] of args.entries()) {
    const before = args[i - 1] ?? '';
    if (/^-[\d.]/.test(arg) && /^--[a-z-]+$/.test(before)) joined[joined.length - 1] = `${before}=${arg}`;
    else joined.push(arg);
  }
  return joined;
}

function groundOf(values: Given): PlannedGround {
  const kinds = [values.layers, values.void, values.rho].filter((value) => value !== undefined);
  if (kinds.length !== 1) throw faultOf('arguments', '1', '', 'one ground: --layers, --void, or --rho with the rods');
  if (values.layers !== undefined) return layersOf(String(values.layers));
  if (values.rho !== undefined) {
    const rod = { lengthM: needed(values, 'rod-length'), radiusM: needed(values, 'rod-radius') };
    return { kind: 'rods', groundOhmM: needed(values, 'rho'), rod };
  }
  const kind = oneOf(String(values.void), ['passage', 'chamber'] as const, '--void', 'passage');
  const radiusM = needed(values, 'radius');
  const shape =
    kind === 'chamber'
      ? roundChamber(radiusM)
      : roundPassage(radiusM, number(values, 'length', USUAL_PASSAGE_LENGTH_M));
  const place = { shape, depthM: needed(values, 'depth'), bearingDeg: number(values, 'bearing', 90) };
  return { kind: 'void', ...place, fillOhmM: fillOf(values), hostOhmM: number(values, 'host', USUAL_HOST_OHM_M) };
}

function fillOf({ fill = 'air' }: Given): number {
  if (fill === 'air') return Number.POSITIVE_INFINITY;
  if (fill === 'water') return WATER_OHM_M;
  const ohmM = Number(fill);
  if (!(ohmM >= 0) || fill === '')
    throw faultOf('arguments', '--fill', String(fill), 'air, water or a resistivity in Ω·m');
  return ohmM;
}

function layersOf(text: string): PlannedGround {
  const parts = text.split(',').map((part) => part.split(':'));
  const resistivitiesOhmM = parts.map(([resistivity = '']) => asNumber('layers', resistivity));
  const thicknessesM = parts.slice(0, -1).map(([, thickness = '']) => asNumber('layers', thickness));
  const last = parts[parts.length - 1];
  if (last?.length !== 1 || parts.slice(0, -1).some(({ length }) => length !== 2)) {
    throw faultOf(
      'arguments',
      '--layers',
      text,
      'resistivity:thickness from the top, the last without a thickness, as 100:1,1000:3,100',
    );
  }
  return { kind: 'layers', ground: { resistivitiesOhmM, thicknessesM } };
}

function targetOf(values: Given, ground: PlannedGround): PlanTarget | null {
  if (ground.kind !== 'void') return null;
  const { shape, depthM, bearingDeg, fillOhmM, hostOhmM } = ground;
  const lengthM = shape.kind === 'passage' ? shape.lengthM : USUAL_PASSAGE_LENGTH_M;
  return { kind: shape.kind, radiusM: needed(values, 'radius'), depthM, lengthM, bearingDeg, fillOhmM, hostOhmM };
}

function asNumber(option: keyof typeof OPTIONS, text: string): number {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (!Number.isFinite(value)) throw faultOf('arguments', `--${option}`, text, 'a number');
  return value;
}

const number = (values: Given, option: keyof typeof OPTIONS, otherwise: number): number =>
  values[option] === undefined ? otherwise : asNumber(option, String(values[option]));

function needed(values: Given, option: keyof typeof OPTIONS): number {
  if (values[option] === undefined) throw faultOf('arguments', `--${option}`, '', 'a number');
  return asNumber(option, String(values[option]));
}

function numbers(values: Given, option: keyof typeof OPTIONS): number[] {
  if (values[option] === undefined) throw faultOf('arguments', `--${option}`, '', 'numbers divided by commas');
  return String(values[option])
    .split(',')
    .map((text) => asNumber(option, text));
}

/** Layers and rods are formulas that are computed to about a millionth; a void is an approximation, to a thousandth. */
const EXACT_DIGITS = 7;
const VOID_DIGITS = 5;

// + 0 makes a −0 of rounding a plain 0.
const decimals = (value: number, places: number): number => Number(value.toFixed(places)) + 0;
const digits = (value: number | null, count: number): number | null =>
  value === null ? null : Number(value.toPrecision(count));

function planDocument(readings: readonly PlannedReading[], advice: PlanAdvice | null): object {
  return {
    readings: readings.map(({ spacingM, offsetM, ratio, ratioError, apparentOhmM, resistanceOhm, figureOhmM }) => ({
      spacing_m: spacingM,
      offset_m: offsetM,
      ...(ratio === null ? {} : { ratio: decimals(ratio, 5), ratio_error: digits(ratioError, 2) }),
      ...(apparentOhmM === null ? {} : { apparent_resistivity_ohm_m: digits(apparentOhmM, EXACT_DIGITS) }),
      ...(resistanceOhm === null ? {} : { resistance_ohm: digits(resistanceOhm, EXACT_DIGITS) }),
      figure_ohm_m: digits(figureOhmM, ratio === null ? EXACT_DIGITS : VOID_DIGITS),
    })),
    ...(advice && {
      advice: {
        best_spacing_m: advice.bestSpacingM,
        spacings: advice.spacings.map(({ spacingM, highest, highestAtM, lowest, lowestAtM, shows }) => ({
          spacing_m: spacingM,
          highest_change: decimals(highest, 4),
          highest_at_m: decimals(highestAtM, 2),
          lowest_change: decimals(lowest, 4),
          lowest_at_m: decimals(lowestAtM, 2),
          shows,
        })),
        station_step_m: advice.stationStepM,
        line_length_m: advice.lineLengthM,
        anomaly_reach_m: decimals(advice.anomalyReachM, 2),
        smallest_radius_m: advice.smallestRadiusM === null ? null : digits(advice.smallestRadiusM, 3),
        remotes_m: advice.remotesM,
        remotes_share: advice.remotesShare,
      },
    }),
  };
}

function planText(readings: readonly PlannedReading[], advice: PlanAdvice | null, noise: number): string {
  const rows = readings.map(({ spacingM, offsetM, ratio, ratioError, resistanceOhm, figureOhmM }) => {
    const change = ratio === null ? '' : `  ${changeText(ratio - 1)} (± ${(100 * (ratioError ?? 0)).toFixed(2)})`;
    const resistance = resistanceOhm === null ? '' : `  R ${significant(resistanceOhm, 4)} Ω`;
    return `  ${metres(spacingM).padStart(8)} at ${metres(offsetM).padEnd(8)} ${significant(figureOhmM, 4).padStart(7)} Ω·m${change}${resistance}`;
  });
  return [
    'Spacing, midpoint, figure',
    ...rows,
    ...(advice ? ['', 'To look for it', ...adviceWords(advice, noise).map((text) => `  ${text}`)] : []),
  ].join('\n');
}
