import type { LineErrors } from './line-errors';
import { createScanner } from './line-scan';
import { evenSteps, KINDS, type PreparedLine } from './line-search';
import type { VoidTable } from './void-table';
import { voidTemplates } from './void-templates';

/** The smallest void that a line would have found at a place. */
export interface Findable {
  readonly kind: 'chamber' | 'passage';
  readonly chainageM: number;
  readonly depthM: number;
  /** Null: none within the bounds. */
  readonly radiusM: number | null;
}

/** Normal deviate that four in five stay above: the power at which "would have been found" is said (choice). */
const FOUR_IN_FIVE = 0.8416;
const SHARES = evenSteps(0.16, 0.8, 17);
/** Of `TRIED_VOIDS`: the chamber, and the passage square to the line. */
const [CHAMBER, PASSAGE] = KINDS;

/**
 * The smallest radius, at every place searched, whose own signal under the errors of the line would pass the threshold in
 * four cases of five: s² − 2·0.84·s ≥ threshold for a signal of s standard errors.
 */
export function findableUnder(line: PreparedLine, table: VoidTable, errors: number, threshold: number): Findable[] {
  const templates = voidTemplates(
    table,
    line.readings.map(({ layout }) => layout),
    { ...line.grid, shares: SHARES, tried: [CHAMBER, PASSAGE] },
  );
  const strengths = createScanner([line.errors[errors] as LineErrors], templates).strengths(0);
  const needed = (FOUR_IN_FIVE + Math.sqrt(FOUR_IN_FIVE ** 2 + Math.max(0, threshold))) ** 2;
  const found = new Map<string, Findable>();
  for (const kind of ['chamber', 'passage'] as const) {
    for (const chainageM of line.grid.chainagesM) {
      for (const depthM of line.grid.depthsM) {
        found.set(`${kind} ${chainageM} ${depthM}`, { kind, chainageM, depthM, radiusM: null });
      }
    }
  }
  for (const [t, { tried, chainageM, depthM, radiusM }] of templates.list.entries()) {
    if ((strengths[t] as number) < needed) continue;
    const kind = tried === CHAMBER ? 'chamber' : 'passage';
    const key = `${kind} ${chainageM} ${depthM}`;
    const known = found.get(key)?.radiusM ?? Infinity;
    if (radiusM < known) found.set(key, { kind, chainageM, depthM, radiusM });
  }
  return [...found.values()];
}
