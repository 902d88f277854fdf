import type { ChangesDrawing } from '../../figures/changes';
import type { LineFindings } from '../../findings';
import type { Comparison } from '../../studies/compare';
import { HOOKUP_LABEL, type Hookup, isTwoProbe } from '../../survey/hookup';
import type { LineId } from '../../survey/ids';

/** A line of the later survey with one of its hookups, of which something could be compared. */
export interface ComparedLine {
  readonly key: string;
  readonly line: LineFindings;
  readonly hookup: Hookup;
  readonly words: string;
}

/** What can be drawn, the lines in their order, those with four electrodes before those with two. */
export function comparedLines({ matched }: Comparison, lines: readonly LineFindings[]): readonly ComparedLine[] {
  const byLine = new Map<LineId, Set<Hookup>>();
  for (const { lineId, hookup, change } of matched) {
    if (change === null) continue;
    const known = byLine.get(lineId);
    if (known) known.add(hookup);
    else byLine.set(lineId, new Set([hookup]));
  }
  const found = lines.flatMap((line) => {
    const hookups = [...(byLine.get(line.lineId) ?? [])];
    return hookups.map((hookup): ComparedLine => {
      const behind = hookups.length > 1 || isTwoProbe(hookup) ? `, ${HOOKUP_LABEL[hookup]}` : '';
      return { key: `${line.lineId}|${hookup}`, line, hookup, words: `${line.name}${behind}` };
    });
  });
  return [...found].sort((p, q) => Number(isTwoProbe(p.hookup)) - Number(isTwoProbe(q.hookup)));
}

export function changesDrawing(
  { matched, zShown }: Comparison,
  { line, hookup }: ComparedLine,
  earlier: string,
): ChangesDrawing {
  const points = matched.flatMap(
    ({ lineId, hookup: by, key, chainageM, spacingM, change, standardErrorLn, verdict }) =>
      lineId === line.lineId && by === hookup && change !== null && standardErrorLn !== null
        ? [{ sid: key, chainageM, spacingM, change, standardErrorLn, verdict }]
        : [],
  );
  return { line: line.name, earlier, hookup, zShown, points };
}
