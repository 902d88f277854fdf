import { createVoidModel } from '../../src/ground/void-response';
import { roundChamber, roundPassage, type VoidShape } from '../../src/ground/void-shape';

export interface VoidRow {
  readonly name: string;
  readonly panels: readonly number[];
  /** From nothing to the answers, best of the rounds. */
  readonly milliseconds: number;
}

const ROUNDS = 5;
const READINGS = 60;

/** 60 pole-pole readings over a void from nothing: mesh, matrices, factors, answers. */
export function benchVoidResponse(): VoidRow[] {
  return [
    row('chamber, no refinement', roundChamber(1), 8, false),
    row('chamber, refined', roundChamber(1), 6, true),
    row('passage of 40 m, no refinement', roundPassage(1), 4, false),
    row('passage of 40 m, refined', roundPassage(1), 4, true),
  ];
}

function row(name: string, shape: VoidShape, quarterTurn: number, refine: boolean): VoidRow {
  const electrodes = Array.from({ length: READINGS }, (_, i) => ({
    a: [0.13 * i - (1 + 0.3 * i) / 2, 0.1, 0] as const,
    b: null,
    m: [0.13 * i + (1 + 0.3 * i) / 2, 0.1, 0] as const,
    n: null,
  }));
  const place = { xM: 0, yM: 0, depthM: 2, bearingDeg: 60 };
  let milliseconds = Infinity;
  let panels: readonly number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const start = performance.now();
    const model = createVoidModel(shape, 2, { quarterTurn, refine });
    if (!model.ok) throw new Error(model.sentence);
    const answered = model.value.answer({ place, hostOhmM: 500, fillOhmM: Infinity, electrodes });
    if (!answered.ok) throw new Error(answered.sentence);
    milliseconds = Math.min(milliseconds, performance.now() - start);
    panels = model.value.panels;
  }
  return { name, panels, milliseconds };
}
