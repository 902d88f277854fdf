import type { SectionCell, SectionResult } from './section';
import type { VoidCandidate, VoidSearchResult } from './void-search-answer';

/** The column of a section under a chainage, from the surface down to the depth limit. */
export function columnUnder({ cells, depthLimitM }: SectionResult, chainageM: number): readonly SectionCell[] {
  return cells
    .filter((cell) => cell.chainageFromM <= chainageM && chainageM < cell.chainageToM && cell.depthTopM < depthLimitM)
    .sort((p, q) => p.depthTopM - q.depthTopM);
}

/** Candidates of a search that may lie under a chainage of a line: within their 95 % range and their radius. */
export function candidatesUnder(
  { candidates }: VoidSearchResult,
  line: string,
  chainageM: number,
): readonly VoidCandidate[] {
  return candidates.filter(({ crossings, radiusM }) =>
    crossings.some(
      (crossing) =>
        crossing.line === line &&
        chainageM >= crossing.chainageM.low95 - radiusM.high95 &&
        chainageM <= crossing.chainageM.high95 + radiusM.high95,
    ),
  );
}
