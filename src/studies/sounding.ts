import type { SeatingContact } from '../ground/contact-network';
import type { Follows } from '../ground/follows';
import type { LayeredModel } from '../ground/layered-inversion';
import { type SoundingReading, soundLayers } from '../ground/layered-inversion';
import { nominalDistances } from '../ground/layout';
import type { VoidTable } from '../ground/void-table';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import { type ContactVerdict, contactOfLadder, contactOfTwoProbes } from './sounding-contact';
import type { SoundingInput } from './sounding-input';
import { type VoidAnswer, voidOfLadder } from './sounding-void';
import { studyKey, type Tick } from './study-key';

/** What a ladder can say of contact, layers and voids. */
export interface SoundingResult {
  readonly key: string;
  readonly line: string;
  readonly chainageM: number;
  readonly hookup: Hookup;
  readonly spacingsM: readonly number[];
  readonly overRangeM: readonly number[];
  readonly contact: ContactVerdict;
  /** Contacts of the rods of this ladder, where seatings are shared along the line. */
  readonly seatings: readonly SeatingContact[];
  /** Whether the strongest change of the line goes with a probe or a midpoint; null but for two-probe lines. */
  readonly follows: Follows | null;
  readonly layers: {
    /** Why there is no model; null where there is one. */
    readonly reason: string | null;
    readonly model: LayeredModel | null;
    /** Whether flat layers explain the ladder within its errors. */
    readonly explains: boolean;
  };
  readonly void: VoidAnswer;
}

/** Root mean square of residuals over σ up to which flat layers count as an explanation (choice). */
const EXPLAINED = 2;

const NO_LAYERS_FROM_TWO_PROBES =
  'There is no resistivity from two probes, so no layers either: what they read is mostly the contact of the two rods.';
const NO_VOID_FROM_TWO_PROBES =
  'A two-probe reading is mostly contact: a void changes it by less than contact does from one driving to the next, so it says nothing of a void.';

export const soundingKey = (input: SoundingInput): string => studyKey('sounding', input);

/**
 * The study `sounding`: contact, layers and void test of one ladder. Pure; some tenths of a second with a table of void
 * responses, which `tableOf` gives (it is asked for only where it is needed, and is to be kept by the caller).
 */
export function sounding(
  input: SoundingInput,
  tableOf: (tick: Tick) => VoidTable,
  tick: Tick = () => {},
): SoundingResult {
  const { line, chainageM, hookup, rungs, overRangeM } = input;
  const common = {
    key: soundingKey(input),
    line,
    chainageM,
    hookup,
    spacingsM: rungs.map(({ spacingM }) => spacingM),
    overRangeM,
  };
  if (isTwoProbe(hookup)) {
    const { contact, seatings, follows } = contactOfTwoProbes(input);
    tick(1);
    return {
      ...common,
      contact,
      seatings,
      follows,
      layers: { reason: NO_LAYERS_FROM_TWO_PROBES, model: null, explains: false },
      void: { verdict: null, reason: NO_VOID_FROM_TWO_PROBES, test: null },
    };
  }
  const readings = rungs.map(
    ({ layout, figureOhmM, ownSigmaLn }): SoundingReading => ({
      hookup,
      distances: nominalDistances(layout),
      apparentOhmM: figureOhmM,
      relativeSigma: ownSigmaLn,
    }),
  );
  const sounded = soundLayers({ readings });
  tick(0.2);
  const layers = sounded.ok
    ? { reason: null, model: sounded.value.model, explains: sounded.value.model.misfit <= EXPLAINED }
    : { reason: sounded.sentence, model: null, explains: false };
  const answer = voidOfLadder(
    input,
    layers,
    (own) => tableOf(own),
    (fraction) => tick(0.2 + 0.75 * fraction),
  );
  const contact = contactOfLadder(input, answer.test, layers.explains);
  tick(1);
  return { ...common, contact, seatings: [], follows: null, layers, void: answer };
}
