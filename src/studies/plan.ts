import { idealSchlumbergerOhmM, layeredApparentOhmM } from '../ground/layered-earth';
import type { LayeredGround } from '../ground/layered-kernel';
import { layoutOf, nominalDistances } from '../ground/layout';
import { type Rod, rodContactOhm } from '../ground/rod-contact';
import type { SurfaceElectrodes } from '../ground/small-void';
import { twoProbeOhm } from '../ground/two-probe';
import { createVoidModel } from '../ground/void-response';
import { HOOKUP_LABEL, type Hookup, isTwoProbe } from '../survey/hookup';
import { done, type Outcome, refuse } from '../survey/outcome';
import { twoProbeChange, twoProbeSentence } from './plan-two-probe';
import type { PlannedPlace, PlannedVoid } from './plan-void';

/** The ground that is described: flat layers, a void in uniform ground, or uniform ground under two probes. */
export type PlannedGround =
  | { readonly kind: 'layers'; readonly ground: LayeredGround }
  | ({ readonly kind: 'void' } & PlannedVoid)
  | { readonly kind: 'rods'; readonly groundOhmM: number; readonly rod: Rod };

export interface PlanQuestion {
  readonly hookup: Hookup;
  /** a; AB/2 for Schlumberger, whose MN is taken as small; the dipole length for dipole arrays. */
  readonly spacingsM: readonly number[];
  /** Midpoints from the point over the void, along the line. */
  readonly offsetsM: readonly number[];
  /** Separation factor of dipole arrays. */
  readonly n: number;
  readonly ground: PlannedGround;
}

/** What would be read. What the ground asked for does not give is null. */
export interface PlannedReading extends PlannedPlace {
  /** Over the same reading without the void. */
  readonly ratio: number | null;
  readonly ratioError: number | null;
  readonly apparentOhmM: number | null;
  readonly resistanceOhm: number | null;
  /** What it is compared by: apparent resistivity, or 2πaR for two probes. */
  readonly figureOhmM: number;
}

/**
 * MN of a Schlumberger reading over a void, as a share of AB/2: so small that it is read as at a point. Over a passage 2 m
 * down that is within 1e-6 of the ratio up to AB/2 = 20 m; a fiftieth would be 0.005 off there.
 */
const SMALL_INNER = 1e-4;

/**
 * What would be read over a described ground: spacings × offsets, offsets fastest. Flat ground, point electrodes,
 * remotes infinitely far, a passage centred on offset 0. `tick` hears the share that is done.
 * Refusals: `spacing_not_positive`, `offset_not_a_number`, `two_probe_sees_no_such_ground`, `rods_are_for_two_probe`,
 * `ground_not_positive`, `separation_not_positive`, `rods_too_close`, and those of `layoutOf`, the rods and the void.
 */
export function planReadings(
  question: PlanQuestion,
  tick: (fraction: number) => void = () => undefined,
): Outcome<PlannedReading[]> {
  const { hookup, spacingsM, offsetsM, ground } = question;
  if (spacingsM.length === 0 || !spacingsM.every((spacing) => spacing > 0 && Number.isFinite(spacing))) {
    return refuse('spacing_not_positive', 'Give spacings longer than 0 m.');
  }
  if (offsetsM.length === 0 || !offsetsM.every(Number.isFinite)) {
    return refuse('offset_not_a_number', 'Give offsets as metres along the line.');
  }
  if (!(question.n > 0 && Number.isFinite(question.n))) {
    return refuse('separation_not_positive', 'Give a separation factor n above 0.');
  }
  const places = spacingsM.flatMap((spacingM) => offsetsM.map((offsetM) => ({ spacingM, offsetM })));
  if (isTwoProbe(hookup) && ground.kind !== 'rods') {
    if (ground.kind === 'void') {
      const change = twoProbeChange(ground, places);
      return change.ok ? refuse('two_probe_sees_no_such_ground', twoProbeSentence(change.value)) : change;
    }
    return refuse(
      'two_probe_sees_no_such_ground',
      'A two-probe reading is mostly the contact of its rods and does not show layers. Plan it with the resistivity and the rods.',
    );
  }
  if (!isTwoProbe(hookup) && ground.kind === 'rods') {
    return refuse(
      'rods_are_for_two_probe',
      `Rods matter to two-probe readings only; ${HOOKUP_LABEL[hookup]} needs layers or a void.`,
    );
  }
  tick(0);
  const planned = plannedIn(question, places);
  tick(1);
  return planned;
}

function plannedIn(question: PlanQuestion, places: readonly PlannedPlace[]): Outcome<PlannedReading[]> {
  const { ground } = question;
  switch (ground.kind) {
    case 'rods':
      return overRods(ground, places);
    case 'layers':
      return overLayers(ground.ground, question, places);
    case 'void':
      return overVoid(ground, question, places);
  }
}

const NOTHING = { ratio: null, ratioError: null, apparentOhmM: null, resistanceOhm: null } as const;

function overRods(
  { groundOhmM, rod }: Extract<PlannedGround, { kind: 'rods' }>,
  places: readonly PlannedPlace[],
): Outcome<PlannedReading[]> {
  if (!(groundOhmM > 0)) return refuse('ground_not_positive', 'The resistivity has to be above 0 Ω·m.');
  const contact = rodContactOhm(rod, groundOhmM);
  if (!contact.ok) return contact;
  if (!places.every(({ spacingM }) => spacingM > rod.lengthM)) {
    return refuse(
      'rods_too_close',
      'Two rods closer than they are long do not feel each other as points: give a wider spacing.',
    );
  }
  return done(
    places.map((place) => {
      const resistanceOhm = twoProbeOhm(contact.value, contact.value, groundOhmM, place.spacingM);
      return { ...NOTHING, ...place, resistanceOhm, figureOhmM: 2 * Math.PI * place.spacingM * resistanceOhm };
    }),
  );
}

function overLayers(
  ground: LayeredGround,
  { hookup, n }: PlanQuestion,
  places: readonly PlannedPlace[],
): Outcome<PlannedReading[]> {
  const { resistivitiesOhmM, thicknessesM } = ground;
  const positive = [...resistivitiesOhmM, ...thicknessesM].every((value) => value > 0 && Number.isFinite(value));
  if (!positive || resistivitiesOhmM.length !== thicknessesM.length + 1) {
    return refuse(
      'ground_not_positive',
      'Give layers as resistivity:thickness from the top, the last without a thickness.',
    );
  }
  const readings: PlannedReading[] = [];
  for (const place of places) {
    const layout = layoutOf({ hookup, midpointM: place.offsetM, spacingM: place.spacingM, n });
    if (!layout.ok) return layout;
    const apparentOhmM =
      hookup === 'schlumberger'
        ? idealSchlumbergerOhmM(ground, place.spacingM)
        : layeredApparentOhmM(ground, nominalDistances(layout.value));
    readings.push({ ...NOTHING, ...place, apparentOhmM, figureOhmM: apparentOhmM });
  }
  return done(readings);
}

function overVoid(
  { shape, depthM, bearingDeg, fillOhmM, hostOhmM }: PlannedVoid,
  { hookup, n }: PlanQuestion,
  places: readonly PlannedPlace[],
): Outcome<PlannedReading[]> {
  const electrodes = electrodesAt(hookup, n, places);
  if (!electrodes.ok) return electrodes;
  const model = createVoidModel(shape, depthM);
  if (!model.ok) return model;
  const place = { xM: 0, yM: 0, depthM, bearingDeg };
  const answer = model.value.answer({ place, hostOhmM, fillOhmM, electrodes: electrodes.value });
  if (!answer.ok) return answer;
  return done(
    places.map((each, i) => {
      const { ratio, ratioError } = answer.value[i] ?? { ratio: Number.NaN, ratioError: null };
      return { ...NOTHING, ...each, ratio, ratioError, figureOhmM: ratio * hostOhmM };
    }),
  );
}

/** Electrodes on a line along x, for each place. Refusals of `layoutOf`. */
export function electrodesAt(
  hookup: Hookup,
  n: number,
  places: readonly PlannedPlace[],
): Outcome<readonly SurfaceElectrodes[]> {
  const electrodes: SurfaceElectrodes[] = [];
  for (const { spacingM, offsetM } of places) {
    const layout = layoutOf({ hookup, midpointM: offsetM, spacingM, n, innerSpacingM: SMALL_INNER * spacingM });
    if (!layout.ok) return layout;
    const { a, b, m, n: second } = layout.value;
    if (a === null || m === null) return refuse('array_without_response', 'This array has nothing on the line.');
    electrodes.push({
      a: [a, 0, 0],
      b: b === null ? null : [b, 0, 0],
      m: [m, 0, 0],
      n: second === null ? null : [second, 0, 0],
    });
  }
  return done(electrodes);
}
