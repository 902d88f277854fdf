import type { Doubt, DoubtCode } from '../../survey/doubt';

/** Doubts of one kind. */
export interface DoubtGroup {
  readonly code: DoubtCode;
  /** The gravest first, the settled last. */
  readonly doubts: readonly Doubt[];
  /** Of the gravest that is not settled; null = all are settled. */
  readonly severity: Doubt['severity'] | null;
  readonly settled: number;
}

const RANK: Readonly<Record<Doubt['severity'], number>> = { serious: 0, warning: 1, note: 2 };
const SETTLED = 3;

/**
 * Doubts by kind: the kind with the gravest open one first, among equals the smaller one, which is sooner looked at.
 * `settled` says by the doubt's id what people have decided.
 */
export function doubtGroups(doubts: readonly Doubt[], settled: ReadonlyMap<string, unknown>): DoubtGroup[] {
  const rankOf = ({ id, severity }: Doubt): number => (settled.has(id) ? SETTLED : RANK[severity]);
  const groups = new Map<DoubtCode, Doubt[]>();
  for (const doubt of [...doubts].sort((p, q) => rankOf(p) - rankOf(q))) {
    const group = groups.get(doubt.code);
    if (group) group.push(doubt);
    else groups.set(doubt.code, [doubt]);
  }
  return [...groups]
    .map(([code, found]): DoubtGroup => {
      const open = found.filter(({ id }) => !settled.has(id));
      return { code, doubts: found, severity: open[0]?.severity ?? null, settled: found.length - open.length };
    })
    .sort((p, q) => rank(p) - rank(q) || p.doubts.length - q.doubts.length);
}

const rank = ({ severity }: DoubtGroup): number => (severity === null ? SETTLED : RANK[severity]);
