import { findableSize } from '../../../studies/line-words';
import type { FindableVoid } from '../../../studies/void-search-answer';
import { metres } from '../../../survey/wording';

const KINDS = ['passage', 'chamber'] as const;

/** For each depth the smallest voids that would have been found. */
export function FindableTable({ findable }: { findable: readonly FindableVoid[] }) {
  const depths = [...new Set(findable.map(({ depthM }) => depthM))].sort((p, q) => p - q);
  if (depths.length === 0) return null;
  return (
    <details>
      <summary>How small a void would have shown</summary>
      <table className="findable">
        <caption>Smallest radius found with 80 %, m</caption>
        <thead>
          <tr>
            <th scope="col">Depth</th>
            <th scope="col">Passage</th>
            <th scope="col">Chamber</th>
          </tr>
        </thead>
        <tbody>
          {depths.map((depth) => (
            <tr key={depth}>
              <th scope="row">{metres(Number(depth.toFixed(1)))}</th>
              {KINDS.map((kind) => (
                <td key={kind}>
                  {findableSize(
                    findable.filter((place) => place.depthM === depth && place.kind === kind),
                    '',
                  ) ?? 'none'}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
