import { type Rod, rodContactOhm } from '../ground/rod-contact';
import type { SurfaceElectrodes } from '../ground/small-void';
import { twoProbeOhm } from '../ground/two-probe';
import { createVoidModel } from '../ground/void-response';
import { done, type Outcome } from '../survey/outcome';
import type { PlannedPlace, PlannedVoid } from './plan-void';

/** Rods where none are described: 0.3 m in the ground, 10 mm thick (choice). */
const USUAL_ROD: Rod = { lengthM: 0.3, radiusM: 0.005 };
/** A rod's own potential changes as that of a place so near to it, in depths. */
const NEAR = 1e-3;

/**
 * The largest change, as a share, that a void makes in two-probe readings: δR/R with R = 2Rc − ρ/(πa) and
 * δR = δ(AA) + δ(BB) − 2δ(AB), δ(PQ) the void's part of the potential at Q for a current of 1 A at P, rods as points.
 * Without refinement. Refusals: those of the rods and of the void.
 */
export function twoProbeChange(
  { shape, depthM, bearingDeg, fillOhmM, hostOhmM }: PlannedVoid,
  places: readonly PlannedPlace[],
  rod: Rod = USUAL_ROD,
): Outcome<number> {
  const contact = rodContactOhm(rod, hostOhmM);
  if (!contact.ok) return contact;
  const model = createVoidModel(shape, depthM, { refine: false });
  if (!model.ok) return model;
  const nearM = NEAR * depthM;
  const pair = (fromM: number, toM: number): SurfaceElectrodes => ({
    a: [fromM, 0, 0],
    b: null,
    m: [toM, 0, 0],
    n: null,
  });
  const electrodes = places.flatMap(({ spacingM, offsetM }) => {
    const [a, b] = [offsetM - spacingM / 2, offsetM + spacingM / 2];
    return [pair(a - nearM / 2, a + nearM / 2), pair(b - nearM / 2, b + nearM / 2), pair(a, b)];
  });
  const place = { xM: 0, yM: 0, depthM, bearingDeg };
  const answer = model.value.answer({ place, hostOhmM, fillOhmM, electrodes });
  if (!answer.ok) return answer;
  const partOhm = (i: number, apartM: number): number =>
    (((answer.value[i]?.ratio as number) - 1) * hostOhmM) / (2 * Math.PI * apartM);
  const shares = places.map(({ spacingM }, i) => {
    const changeOhm = partOhm(3 * i, nearM) + partOhm(3 * i + 1, nearM) - 2 * partOhm(3 * i + 2, spacingM);
    return Math.abs(changeOhm / twoProbeOhm(contact.value, contact.value, hostOhmM, spacingM));
  });
  return done(Math.max(...shares));
}

/** Why a void is not planned for with two probes, with what it would change. */
export function twoProbeSentence(change: number): string {
  const percent = change < 0.001 ? 'under 0.1 %' : `${Number((100 * change).toPrecision(2))} %`;
  return `A two-probe reading is mostly the contact of its rods and does not show a void: this one would change it by ${percent} at most (rods of 0.3 m, uniform ground), which nothing tells from contact. Plan for two remote electrodes, or four on the line.`;
}
