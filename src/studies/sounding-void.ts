import { medianVariance } from '../evidence/robust';
import { soilEffect, USUAL_UNEVENNESS } from '../ground/ladder-errors';
import { soundLayers } from '../ground/layered-inversion';
import type { LayeredGround } from '../ground/layered-kernel';
import { nominalDistances } from '../ground/layout';
import type { VoidTable } from '../ground/void-table';
import { type ComparedReading, testForVoid, type VoidTest, type VoidVerdict } from '../ground/void-test';
import type { Hookup } from '../survey/hookup';
import type { Rung, SoundingInput } from './sounding-input';
import type { Tick } from './study-key';

export interface VoidAnswer {
  /** Null where nothing at all can be said, with the reason. */
  readonly verdict: VoidVerdict | null;
  /** What stands in the way of a full test; null where there was one. */
  readonly reason: string | null;
  readonly test: VoidTest | null;
}

/** Layers that the reference's ladder is taken to show: soil over rock (choice). */
const REFERENCE_LAYERS = 2;

type Compared = Rung & { readonly reference: NonNullable<Rung['reference']> };
const isCompared = (rung: Rung): rung is Compared => rung.reference !== null;

/** The void test of a ladder against its reference; without one, what flat layers say. */
export function voidOfLadder(
  { rungs, hookup, chainageM }: SoundingInput,
  layers: { readonly explains: boolean; readonly reason: string | null },
  tableOf: (tick: Tick) => VoidTable,
  tick: Tick,
): VoidAnswer {
  const compared = rungs.filter(isCompared);
  if (compared.length === 0) return withoutReference(layers);
  const ground = groundOf(compared, hookup);
  const table = tableOf(tick);
  const tested = testForVoid(
    {
      midpointM: chainageM,
      readings: withErrors(compared, ground),
      referenceGround: ground,
      feelsContact: hookup === 'pole_pole',
    },
    table,
  );
  if (tested.ok) return { verdict: tested.value.verdict, reason: null, test: tested.value };
  return { verdict: 'unresolved', reason: tested.sentence, test: null };
}

function withoutReference({
  explains,
  reason,
}: {
  readonly explains: boolean;
  readonly reason: string | null;
}): VoidAnswer {
  if (reason !== null)
    return { verdict: 'unresolved', reason: `There is no reference, and no layers: ${reason}`, test: null };
  return explains
    ? {
        verdict: 'no_void_needed',
        reason:
          'There is no reference to compare with. Flat layers alone explain this ladder; whether layers or a void make its shape cannot be told without readings at a quiet place.',
        test: null,
      }
    : {
        verdict: 'unresolved',
        reason:
          'There is no reference to compare with, and flat layers do not explain this ladder: contact, ground that is not flat, or a void. Read a reference at a quiet place with the same spacings.',
        test: null,
      };
}

/** The layers of the reference's own ladder; one layer where it shows none or has too few spacings. */
function groundOf(rungs: readonly Compared[], hookup: Hookup): LayeredGround {
  const sounded = soundLayers({
    readings: rungs.map(({ layout, reference, ownSigmaLn }) => ({
      hookup,
      distances: nominalDistances(layout),
      apparentOhmM: reference.figureOhmM,
      relativeSigma: Math.max(ownSigmaLn, reference.scatterLn) * Math.sqrt(medianVariance(reference.stations)),
    })),
    fewestLayers: 1,
    mostLayers: REFERENCE_LAYERS,
  });
  if (!sounded.ok) {
    const mean = rungs.reduce((sum, { reference }) => sum + Math.log(reference.figureOhmM), 0) / rungs.length;
    return { resistivitiesOhmM: [Math.exp(mean)], thicknessesM: [] };
  }
  const { resistivities, thicknesses } = sounded.value.model;
  return {
    resistivitiesOhmM: resistivities.map(({ value }) => value),
    thicknessesM: thicknesses.map(({ value }) => value),
  };
}

/**
 * Noise of each ln(reading/reference): the reading's own, that of the reference's median, and half of the variance by which
 * stations of the reference scatter beyond noise and the usual unevenness of soil. The other half is taken for level of
 * whole ladders, which the test leaves free, as it has a place of its own for soil (choice).
 */
function withErrors(rungs: readonly Compared[], ground: LayeredGround): ComparedReading[] {
  const effects = soilEffect(
    ground,
    rungs.map(({ layout }) => layout),
  );
  return rungs.map(({ layout, figureOhmM, ownSigmaLn, reference }, k) => {
    const soil = USUAL_UNEVENNESS.lnThickness * (effects[k] as number);
    const beyond = Math.max(0, reference.scatterLn ** 2 - soil ** 2 - ownSigmaLn ** 2);
    const own = ownSigmaLn ** 2 + beyond / 2;
    return {
      layout,
      apparentOhmM: figureOhmM,
      referenceOhmM: reference.figureOhmM,
      sigmaLn: Math.sqrt(own + reference.scatterLn ** 2 * medianVariance(reference.stations)),
    };
  });
}
