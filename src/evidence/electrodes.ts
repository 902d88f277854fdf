import type { ElectrodeFinding } from '../findings';
import type { Remotes } from '../position/remotes';
import type { Track } from '../position/track';
import type { Line } from '../survey/survey';
import type { ReadingFigure } from './figure';

/** Planned chainages that a layout may ask for; more is a slip of the step. */
const MOST_PLANNED = 10_000;

function plannedChainages(layout: Line['layout']): readonly number[] {
  if (!layout) return [];
  if ('chainages_m' in layout) return layout.chainages_m;
  const count = Math.floor((layout.to_m - layout.from_m) / layout.step_m + 1e-9) + 1;
  return Array.from(
    { length: Math.max(0, Math.min(count, MOST_PLANNED)) },
    (_, i) => layout.from_m + i * layout.step_m,
  );
}

/** Every electrode of a line: the probes of its readings, the remotes of its days, and what is planned and not yet read. */
export function electrodesOf(
  line: Line,
  track: Track,
  figures: readonly ReadingFigure[],
  remotes: readonly Remotes[],
): readonly ElectrodeFinding[] {
  const probes = new Map<number, { chainageM: number; readingCount: number }>();
  const count = (chainageM: number | null): void => {
    if (chainageM === null) return;
    const key = Math.round(chainageM * 1000);
    const probe = probes.get(key);
    if (probe) probe.readingCount += 1;
    else probes.set(key, { chainageM, readingCount: 1 });
  };
  for (const { layout } of figures) {
    if (!layout) continue;
    const { a, b, m, n } = layout;
    count(a);
    if (b !== a) count(b);
    if (m !== a && m !== b) count(m);
    if (n !== a && n !== b && n !== m) count(n);
  }
  const planned = plannedChainages(line.layout)
    .filter((chainageM) => !probes.has(Math.round(chainageM * 1000)))
    .map((chainageM) => ({ chainageM, readingCount: 0 }));

  const onLine = (role: 'probe' | 'planned') => (electrode: { chainageM: number; readingCount: number }) => {
    const { chainageM, readingCount } = electrode;
    const { lon, lat, uncertainty95M } = track.placeAt(chainageM);
    const elevationM = track.elevationAt(chainageM);
    return { chainageM, role, remoteRole: null, lon, lat, elevationM, readingCount, uncertainty95M };
  };
  return [
    ...[...probes.values()].sort((p, q) => p.chainageM - q.chainageM).map(onLine('probe')),
    ...planned.map(onLine('planned')),
    ...remoteElectrodes(remotes, figures.length),
  ];
}

function remoteElectrodes(remotes: readonly Remotes[], readingCount: number): readonly ElectrodeFinding[] {
  const seen = new Map<string, ElectrodeFinding>();
  for (const outing of remotes) {
    for (const role of ['a', 'b', 'm', 'n'] as const) {
      const place = outing[role];
      if (!place) continue;
      seen.set(`${role}:${place.lon}:${place.lat}`, {
        chainageM: null,
        role: 'remote',
        remoteRole: role,
        lon: place.lon,
        lat: place.lat,
        elevationM: null,
        readingCount,
        uncertainty95M: place.uncertainty95M,
      });
    }
  }
  return [...seen.values()];
}
