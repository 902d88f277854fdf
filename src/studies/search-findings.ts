import type { UsefulReading } from '../evidence/next-readings';
import type { SearchedVoid } from '../evidence/zones';
import type { FindableFinding, LineFindings } from '../findings';
import { layoutOf } from '../ground/layout';
import type { LineId } from '../survey/ids';
import type { VoidSearchResult } from './void-search-answer';

export interface SearchFindings {
  readonly voids: readonly SearchedVoid[];
  readonly useful: readonly UsefulReading[];
  readonly findable: readonly FindableFinding[];
  /** The lines that were searched. */
  readonly lines: readonly LineId[];
}

/** What searches say, in the ids of the findings; lines that are not there any more are left out. */
export function searchFindings(lines: readonly LineFindings[], searches: readonly VoidSearchResult[]): SearchFindings {
  const ids = new Map(lines.map(({ name, lineId }) => [name, lineId]));
  const voids = searches.flatMap(({ candidates }) =>
    candidates.map(
      (candidate): SearchedVoid => ({
        verdict: candidate.verdict,
        crossings: candidate.crossings.flatMap(({ line, chainageM }) => {
          const lineId = ids.get(line);
          return lineId ? [{ lineId, chainageM }] : [];
        }),
        depthM: candidate.depthM,
        radiusM: candidate.radiusM,
        chanceOfNoVoid: candidate.pGlobal,
        midpoints: candidate.readings,
      }),
    ),
  );
  const useful = searches.flatMap((search) =>
    search.useful.flatMap(({ line, chainageM, spacingM, hookup, ifVoid, ifNot }): UsefulReading[] => {
      const lineId = ids.get(line);
      const layout = layoutOf({ hookup, midpointM: chainageM, spacingM });
      if (!lineId || !layout.ok) return [];
      const probesM = Object.values(layout.value).filter((chainage): chainage is number => chainage !== null);
      return [{ lineId, chainageM, spacingM, hookup, probesM, ifVoid, ifNot }];
    }),
  );
  const findable = searches.flatMap((search) =>
    search.findable.flatMap(({ line, ...place }): FindableFinding[] => {
      const lineId = ids.get(line);
      return lineId ? [{ lineId, ...place }] : [];
    }),
  );
  const searched = searches.flatMap((search) => search.lines.flatMap((line) => ids.get(line) ?? []));
  return {
    voids: voids.filter(({ crossings }) => crossings.length > 0),
    useful,
    findable,
    lines: [...new Set(searched)],
  };
}
