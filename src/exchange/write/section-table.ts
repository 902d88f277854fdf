import type { Disclosed } from '../../discretion/disclose';
import type { LineId } from '../../survey/ids';
import { csvText } from './csv';
import { cellValues, type WrittenCell } from './section-cell';

const COLUMNS = [
  'line',
  'chainage_from_m',
  'chainage_to_m',
  'depth_top_m',
  'depth_bottom_m',
  'resistivity_ohm_m',
  'coverage',
] as const;

/** The cells of a section as a table, one a row; no rows for a line that this audience may not see. */
export function sectionCsv({ findings }: Disclosed, lineId: LineId, cells: readonly WrittenCell[]): string {
  const line = findings.lines.find((each) => each.lineId === lineId);
  const rows = line ? cells.map((cell) => ({ line: line.name, ...cellValues(cell) })) : [];
  return csvText(COLUMNS, rows, COLUMNS);
}
