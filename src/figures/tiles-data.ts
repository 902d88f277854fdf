import type { LineFindings, MidpointFinding, Settings } from '../findings';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { Range } from './axis';
import { isOverRange, type MarkKey, markKey } from './mark-key';
import { profileKind } from './profile-data';

/** One midpoint at one spacing, as wide as the stretch of line that it speaks for. */
export interface Tile {
  /** The key of its midpoint finding: what a mark links to. */
  readonly sid: string;
  readonly chainageM: number;
  readonly fromM: number;
  readonly toM: number;
  readonly ratio: number | null;
  readonly ratioStandardError: number | null;
  readonly overRange: boolean;
  readonly key: MarkKey;
}

/** All midpoints of one spacing, by growing chainage. */
export interface TileRow {
  /** Null: the spacing was not said. */
  readonly spacingM: number | null;
  /** By the depth rule of the findings; null where a reading has no depth. */
  readonly depthM: number | null;
  readonly tiles: readonly Tile[];
}

/** Every reading of a line and hookup at once: chainage across, spacing downwards. */
export interface TilesData {
  readonly line: string;
  readonly hookup: Hookup;
  readonly twoProbe: boolean;
  readonly depthRule: Settings['depthRule'];
  readonly fromM: number;
  readonly toM: number;
  /** From the smallest spacing to the widest; one without a spacing comes last. */
  readonly rows: readonly TileRow[];
  /** False: the line has more midpoints than a figure can show, and these are the ones nearest to the reading. */
  readonly whole: boolean;
}

/** More tiles than this are a smear on a phone. */
const MOST_TILES = 1500;

/** The tiles of a line, of the same kind as a reading of it; about that reading where there are too many. */
export function tilesData(line: LineFindings, like: MidpointFinding, { depthRule }: Settings): TilesData {
  const kind = profileKind(like);
  const own = line.midpoints.filter((finding) => profileKind(finding) === kind);
  const shown = [...own]
    .sort((p, q) => Math.abs(p.chainageM - like.chainageM) - Math.abs(q.chainageM - like.chainageM))
    .slice(0, MOST_TILES)
    .sort((p, q) => p.chainageM - q.chainageM);
  const bySpacing = new Map<number | null, MidpointFinding[]>();
  for (const finding of shown) {
    const spacing = finding.spacingM === null ? null : Math.round(finding.spacingM * 1000) / 1000;
    const row = bySpacing.get(spacing);
    if (row) row.push(finding);
    else bySpacing.set(spacing, [finding]);
  }
  const [fromM, toM] = extent(shown);
  return {
    line: line.name,
    hookup: like.hookup,
    twoProbe: isTwoProbe(like.hookup),
    depthRule,
    fromM,
    toM,
    rows: [...bySpacing]
      .sort(([p], [q]) => (p ?? Infinity) - (q ?? Infinity))
      .map(([spacingM, findings]) => ({
        spacingM,
        depthM: findings[0]?.depthM ?? null,
        tiles: findings.map(tileOf),
      })),
    whole: shown.length === own.length,
  };
}

const extent = (findings: readonly MidpointFinding[]): Range =>
  findings.reduce<Range>(
    ([from, to], { fromM, toM }) => [Math.min(from, fromM), Math.max(to, toM)],
    [Infinity, -Infinity],
  );

const tileOf = (finding: MidpointFinding): Tile => ({
  sid: finding.key,
  chainageM: finding.chainageM,
  fromM: finding.fromM,
  toM: finding.toM,
  ratio: finding.ratio,
  ratioStandardError: finding.ratioStandardError,
  overRange: isOverRange(finding),
  key: markKey(finding),
});
