import type { Anchor } from './anchors';
import type { Heights } from './heights';
import type { PlaneLeg } from './leg-vectors';
import type { LegVector, LineData, Node, PlaneFix } from './line-data';
import { TAPE_RELATIVE_SIGMA } from './tape';
import { LEG_VARIANCE_PER_M, sightVariance, tapedVariance } from './tape-classes';

/** Controls at the same chainage within this are one place fixed twice. */
export const SAME_CHAINAGE_M = 0.005;

/** The chainages at which something is known of a line, those within some millimetres as one. */
export function nodesOf(
  anchors: readonly Anchor[],
  legs: readonly PlaneLeg[],
  horizontal: (chainageM: number) => number,
): readonly Node[] {
  const chainages = [...anchors.map(({ chainageM }) => chainageM), ...legs.flatMap(({ fromM, toM }) => [fromM, toM])];
  const nodes: Node[] = [];
  for (const chainageM of chainages.sort((p, q) => p - q)) {
    const last = nodes[nodes.length - 1];
    if (last && chainageM - last.chainageM <= SAME_CHAINAGE_M) continue;
    nodes.push({ chainageM, horizontalM: horizontal(chainageM) });
  }
  return nodes;
}

interface Known {
  readonly anchors: readonly Anchor[];
  readonly at: readonly (readonly [x: number, y: number])[];
  readonly legs: readonly PlaneLeg[];
  readonly nodes: readonly Node[];
  readonly height: Heights;
}

/** What is known of a line, as its fit wants it. */
export function lineData({ anchors, at, legs, nodes, height }: Known): LineData {
  const groups = [...new Set(anchors.map(({ group }) => group))];
  const nodeAt = (chainageM: number): number => {
    let k = nodes.length - 1;
    while (k > 0 && (nodes[k] as Node).chainageM > chainageM) k -= 1;
    return k;
  };
  return {
    nodes,
    groupCount: groups.length,
    scaleSigma: TAPE_RELATIVE_SIGMA,
    turnSigma: legs.reduce((most, { sharedSigma }) => Math.max(most, sharedSigma), 0),
    fixes: anchors.map(({ chainageM, own, sharedSigmaM, group }, i): PlaneFix => {
      const [x, y] = at[i] as readonly [number, number];
      return { node: nodeAt(chainageM), x, y, own, sharedSigmaM, group: groups.indexOf(group) };
    }),
    legs: legs.map(({ fromM, toM, dx, dy, horizontalM, sightM }): LegVector => {
      const variance = sightM === null ? LEG_VARIANCE_PER_M * horizontalM : sightVariance(sightM);
      return { from: nodeAt(fromM), to: nodeAt(toM), dx, dy, variance };
    }),
    tapeVariances: nodes.slice(1).map((q, k) => {
      const p = nodes[k] as Node;
      const taped = q.chainageM - p.chainageM;
      const level = (q.horizontalM - p.horizontalM) / taped;
      return tapedVariance(taped, height.length === 0 ? 0 : Math.sqrt(Math.max(0, 1 - level * level)));
    }),
  };
}
