import { KNOWN_COVERAGE } from '../../../studies/line-words';
import type { SectionCell } from '../../../studies/section';
import { metres, significant } from '../../../survey/wording';

/** The section in words and numbers: for each depth the lowest and the highest that the readings vouch for, and where. */
export function SectionTable({ cells }: { cells: readonly SectionCell[] }) {
  const depths = [...new Set(cells.map(({ depthTopM }) => depthTopM))].sort((p, q) => p - q);
  const rows = depths.flatMap((depth) => {
    const known = cells.filter(({ depthTopM, coverage }) => depthTopM === depth && coverage >= KNOWN_COVERAGE);
    const [lowest, highest] = [extreme(known, -1), extreme(known, 1)];
    return lowest && highest ? [{ depth, lowest, highest }] : [];
  });
  if (rows.length === 0) return null;
  return (
    <details>
      <summary>The section as a table</summary>
      <table>
        <caption>Where the readings say enough, Ω·m</caption>
        <thead>
          <tr>
            <th scope="col">Depth</th>
            <th scope="col">Lowest</th>
            <th scope="col">Highest</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ depth, lowest, highest }) => (
            <tr key={depth}>
              <th scope="row">
                {short(depth)} to {short(lowest.depthBottomM)} m
              </th>
              <td>{cellWords(lowest)}</td>
              <td>{cellWords(highest)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

const short = (lengthM: number): string => String(Number(lengthM.toFixed(1)));

const cellWords = ({ resistivityOhmM, chainageFromM, chainageToM }: SectionCell): string =>
  `${significant(resistivityOhmM, 2)} at ${metres(Number(((chainageFromM + chainageToM) / 2).toFixed(1)))}`;

const extreme = (cells: readonly SectionCell[], sign: 1 | -1): SectionCell | null =>
  cells.reduce<SectionCell | null>(
    (best, cell) => (!best || sign * cell.resistivityOhmM > sign * best.resistivityOhmM ? cell : best),
    null,
  );
