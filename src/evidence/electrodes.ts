import type { ElectrodeFinding } from '../findings';
import { ellipse95 } from '../position/ellipse';
import { type Remotes, remotesOf } from '../position/remotes';
import type { Track } from '../position/track';
import type { Line, LocalGrid, Outing } from '../survey/survey';
import type { ReadingFigure } from './figure';

function plannedChainages(layout: Line['layout']): readonly number[] {
  if (!layout) return [];
  if ('chainages_m' in layout) return layout.chainages_m;
  const count = Math.floor((layout.to_m - layout.from_m) / layout.step_m + 1e-9) + 1;
  return Array.from({ length: Math.max(0, count) }, (_, i) => layout.from_m + i * layout.step_m);
}

interface OnLine {
  readonly chainageM: number;
  readingCount: number;
}

/**
 * Every electrode of a line: the probes of its readings, what is planned and not yet read, and the remotes of its days.
 * `planned`: a day whose remotes count although nothing was read yet.
 */
export function electrodesOf(
  line: Line,
  track: Track,
  figures: readonly ReadingFigure[],
  planned: Outing | null,
  grids: readonly LocalGrid[],
): readonly ElectrodeFinding[] {
  const probes = new Map<number, OnLine>();
  for (const { layout } of figures) {
    if (!layout) continue;
    const { a, b, m, n } = layout;
    count(probes, a);
    if (b !== a) count(probes, b);
    if (m !== a && m !== b) count(probes, m);
    if (n !== a && n !== b && n !== m) count(probes, n);
  }
  const unread = plannedChainages(line.layout)
    .filter((chainageM) => !probes.has(Math.round(chainageM * 1000)))
    .map((chainageM): OnLine => ({ chainageM, readingCount: 0 }));
  return [
    ...[...probes.values()].sort((p, q) => p.chainageM - q.chainageM).map((probe) => onLine(probe, 'probe', track)),
    ...unread.map((electrode) => onLine(electrode, 'planned', track)),
    ...remoteElectrodes(figures, planned, grids),
  ];
}

function count(probes: Map<number, OnLine>, chainageM: number | null): void {
  if (chainageM === null) return;
  const key = Math.round(chainageM * 1000);
  const probe = probes.get(key);
  if (probe) probe.readingCount += 1;
  else probes.set(key, { chainageM, readingCount: 1 });
}

function onLine({ chainageM, readingCount }: OnLine, role: 'probe' | 'planned', track: Track): ElectrodeFinding {
  const { lon, lat, uncertainty95M, covariance } = track.placeAt(chainageM);
  const elevationM = track.elevationAt(chainageM);
  return {
    chainageM,
    role,
    remoteRole: null,
    lon,
    lat,
    elevationM,
    readingCount,
    uncertainty95M,
    ellipse95: ellipse95(covariance),
  };
}

const ROLES = ['a', 'b', 'm', 'n'] as const;

function remoteElectrodes(
  figures: readonly ReadingFigure[],
  planned: Outing | null,
  grids: readonly LocalGrid[],
): readonly ElectrodeFinding[] {
  const days = new Map<Outing, Remotes>();
  const used = new Map<string, number>();
  const found = new Map<string, ElectrodeFinding>();
  for (const outing of [planned, ...figures.map((figure) => figure.outing)]) {
    if (outing && outing.remotes.length > 0 && !days.has(outing)) days.set(outing, remotesOf(outing, grids));
  }
  for (const { outing, layout } of figures) {
    const remotes = outing ? days.get(outing) : undefined;
    if (!remotes || !layout) continue;
    for (const role of ROLES) {
      const place = layout[role] === null ? remotes[role] : null;
      if (place) used.set(keyOf(role, place), (used.get(keyOf(role, place)) ?? 0) + 1);
    }
  }
  for (const remotes of days.values()) {
    for (const role of ROLES) {
      const place = remotes[role];
      if (!place) continue;
      found.set(keyOf(role, place), {
        chainageM: null,
        role: 'remote',
        remoteRole: role,
        lon: place.lon,
        lat: place.lat,
        elevationM: null,
        readingCount: used.get(keyOf(role, place)) ?? 0,
        uncertainty95M: place.uncertainty95M,
        ellipse95: null,
      });
    }
  }
  return [...found.values()];
}

const keyOf = (role: string, { lon, lat }: { readonly lon: number; readonly lat: number }): string =>
  `${role}:${lon}:${lat}`;
