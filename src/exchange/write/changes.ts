import ramp from '../../../styles/ramp.json';
import type { Disclosed } from '../../discretion/disclose';
import type { LineFindings } from '../../findings';
import type { Hookup } from '../../survey/hookup';
import type { LineId } from '../../survey/ids';
import { csvText } from './csv';
import { cutAtAntimeridian, groundPath } from './ground-path';
import { collectionOf, type Layer, type LayerFeature, type LayerValue } from './layer-collection';
import { decimals, feature } from './layer-feature';

/** A reading of the later survey beside its counterpart of the earlier one, as `studies/compare.ts` finds it. */
export interface WrittenChange {
  readonly key: string;
  readonly lineId: LineId;
  readonly line: string;
  readonly chainageM: number;
  readonly spacingM: number;
  readonly hookup: Hookup;
  readonly lineBefore: string;
  readonly chainageBeforeM: number;
  readonly apartM: number;
  readonly apartUncertainty95M: number;
  readonly ratioBefore: number | null;
  readonly ratioAfter: number | null;
  readonly figureChange: number | null;
  readonly change: number | null;
  readonly standardErrorLn: number | null;
  readonly zScore: number | null;
  readonly smallestChangeShown: number | null;
  readonly verdict: string;
}

const COLUMNS = [
  'sid',
  'line',
  'chainage_m',
  'spacing_m',
  'hookup',
  'line_before',
  'chainage_before_m',
  'apart_m',
  'apart_uncertainty_95_m',
  'ratio_before',
  'ratio_after',
  'figure_change',
  'change',
  'change_standard_error',
  'z_score',
  'smallest_change_shown',
  'verdict',
] as const;

/** What changed between two surveys, as stretches of the later one's lines; those that this audience may not see are left out. */
export function changesLayer({ findings }: Disclosed, changes: readonly WrittenChange[]): Layer {
  const lines = new Map(findings.lines.map((line) => [line.lineId, line]));
  const paths = new Map<LineId, ReturnType<typeof groundPath>>();
  const pathOf = (line: LineFindings) => {
    const known = paths.get(line.lineId) ?? groundPath(line.track);
    paths.set(line.lineId, known);
    return known;
  };
  return collectionOf(
    changes.flatMap((change): LayerFeature[] => {
      const line = lines.get(change.lineId);
      const midpoint = line?.midpoints.find(({ key }) => key === change.key);
      if (!line || !midpoint) return [];
      const path = pathOf(line);
      const places = path.cut(midpoint.fromM, midpoint.toM).map(([x, y]) => path.plane.toLonLat(x, y));
      return cutAtAntimeridian(places).map((piece, i) =>
        feature(
          `${change.key}:change:${i + 1}`,
          { type: 'LineString', coordinates: piece.map(([lon, lat]) => [lon, lat]) },
          { ...valuesOf(change), part: i + 1, ...strokeOf(change) },
        ),
      );
    }),
  );
}

/** The same as a table, one reading a row. */
export function changesCsv({ findings }: Disclosed, changes: readonly WrittenChange[]): string {
  const seen = new Set(findings.lines.map(({ lineId }) => lineId));
  const rows = changes.filter(({ lineId }) => seen.has(lineId));
  return csvText(
    COLUMNS,
    rows.map((change) => ({ sid: change.key, ...valuesOf(change) })),
    COLUMNS,
  );
}

function valuesOf(change: WrittenChange): Record<string, LayerValue> {
  const factor = change.change;
  return {
    line: change.line,
    chainage_m: decimals(change.chainageM, 3),
    spacing_m: decimals(change.spacingM, 3),
    hookup: change.hookup,
    line_before: change.lineBefore,
    chainage_before_m: decimals(change.chainageBeforeM, 3),
    apart_m: decimals(change.apartM, 2),
    apart_uncertainty_95_m: decimals(change.apartUncertainty95M, 2),
    ratio_before: decimals(change.ratioBefore, 4),
    ratio_after: decimals(change.ratioAfter, 4),
    figure_change: decimals(change.figureChange, 4),
    change: decimals(factor, 4),
    change_standard_error:
      factor === null || change.standardErrorLn === null ? null : decimals(factor * change.standardErrorLn, 4),
    z_score: decimals(change.zScore, 2),
    smallest_change_shown: decimals(change.smallestChangeShown, 3),
    verdict: change.verdict,
  };
}

function strokeOf({ verdict }: WrittenChange): Record<string, LayerValue> {
  const key =
    verdict === 'higher_than_before' ? 'clear_above' : verdict === 'lower_than_before' ? 'clear_below' : 'none';
  return { stroke: ramp.stroke.light[key], 'stroke-width': ramp.stroke_width_px[key], 'stroke-opacity': 1 };
}
