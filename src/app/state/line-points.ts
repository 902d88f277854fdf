import type { ControlFinding, Findings } from '../../findings';
import { accuracyOf, radius95M } from '../../position/accuracy';
import { toLonLat } from '../../position/crs';
import type { Line, LocalGrid, PathItem, Position } from '../../survey/survey';

/** A point or leg of a line as the record has it, and what was found out about it. */
export interface LinePoint {
  readonly item: PathItem;
  /** Where it stands on the tape; of a leg, where it ends. */
  readonly chainageM: number;
  /** Null for a leg, and for a point that has no place yet. */
  readonly control: ControlFinding | null;
}

/** Where on the tape a point stands, or a leg ends. */
export const chainageOf = (item: PathItem): number =>
  item.kind === 'leg' ? item.from_chainage_m + item.distance_m : item.chainage_m;

/** The points and legs of a line by growing chainage. */
export function pointsOf(line: Line, findings: Findings): readonly LinePoint[] {
  const controls = new Map(
    findings.lines.find(({ lineId }) => lineId === line.id)?.controls.map((control) => [control.id, control]),
  );
  return line.path
    .filter(({ retired }) => !retired)
    .map((item) => ({ item, chainageM: chainageOf(item), control: controls.get(item.id) ?? null }))
    .sort((p, q) => p.chainageM - q.chainageM);
}

/** A point of a line that a tape can start at. */
export interface KnownPoint {
  readonly id: string;
  readonly chainageM: number;
  readonly position: Position;
}

/** Points with a place of their own, and those placed from others, as the line has them now. */
export function knownPoints(line: Line, findings: Findings, grids: readonly LocalGrid[]): readonly KnownPoint[] {
  return pointsOf(line, findings).flatMap(({ item, chainageM, control }): KnownPoint[] => {
    if (item.kind === 'fix') {
      return toLonLat(item.position, grids).ok ? [{ id: item.id, chainageM, position: item.position }] : [];
    }
    if (!control) return [];
    const position: Position = {
      x: control.lon,
      y: control.lat,
      crs: 'EPSG:4326',
      accuracy_m: control.uncertainty95M,
      accuracy_level: 95,
      source: 'computed',
    };
    return [{ id: item.id, chainageM, position }];
  });
}

/** How sure a point is by what was written down of it, as a 95 % radius in metres. */
export const saidRadius95M = (position: Position): number => radius95M(accuracyOf(position).sigmaM);

/** Chainages at which something of the line is known: from there a leg can start. */
export const startsOfLegs = (points: readonly LinePoint[]): readonly number[] =>
  [...new Set(points.map(({ chainageM }) => Number(chainageM.toFixed(3))))].sort((p, q) => p - q);

/** Chainages that still want a point, the most wanted first: both ends of what is planned. */
export function wantedChainage(line: Line, points: readonly LinePoint[]): number | null {
  const layout = line.layout;
  const ends = layout && 'from_m' in layout ? [layout.from_m, layout.to_m] : [0];
  return ends.find((end) => !points.some(({ chainageM }) => Math.abs(chainageM - end) < 0.005)) ?? null;
}
