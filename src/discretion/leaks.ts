import type { Findings, LineFindings, ZoneFinding } from '../findings';
import { distanceToShapeM } from '../karst/distances';
import { type LonLat, toLonLat } from '../position/crs';
import { geodesicDistanceM } from '../position/geodesic';
import type { Position, Survey } from '../survey/survey';
import { metres } from '../survey/wording';
import { type Audience, isOutside } from './audience';
import { earlierLeaks } from './earlier-leaks';
import type { EarlierShare } from './earlier-share';
import type { Leak } from './leak';
import type { Protected } from './protected';
import { textsOf } from './texts';

/** What of a share could give a hidden feature away, before anything is cut. */
export function leaksOf(
  survey: Survey,
  findings: Findings,
  audience: Audience,
  hidden: readonly Protected[],
  earlier: readonly EarlierShare[],
): readonly Leak[] {
  const hiddenIds = new Set(hidden.map(({ feature }) => feature.id));
  const placed = hidden.filter(({ feature, place }) => place !== null && !feature.retired);
  return [
    ...placed.flatMap((each) => [
      ...linesNear(each, findings.lines),
      ...zonesRound(each, findings.zones, findings.lines),
      ...remotesNear(each, survey),
      ...featuresNear(each, survey, hiddenIds),
      ...(isOutside(audience) ? [] : surroundingsNear(each, survey)),
      ...(isOutside(audience) ? [] : gridOriginsNear(each, survey)),
    ]),
    ...hidden.flatMap((each) => named(each, survey, audience, hiddenIds)),
    ...earlierLeaks(hidden, earlier),
  ];
}

const callOf = ({ feature }: Protected): string =>
  feature.name ? `“${feature.name}”` : `the ${feature.type.replaceAll('_', ' ')} ${feature.id}`;

/** How near things give a place away: the radius of the class, and what its own place is unsure by. */
const reachM = ({ radiusM, r95M }: Protected): number => radiusM + r95M;

function linesNear(hidden: Protected, lines: readonly LineFindings[]): Leak[] {
  return lines.flatMap((line): Leak[] => {
    if (line.track.length < 2) return [];
    const distanceM = distanceToHiddenM(hidden, 'line', [line.track]);
    if (distanceM > reachM(hidden)) return [];
    const [first, last] = [line.track[0], line.track[line.track.length - 1]] as const;
    const ends = [first, last].some((end) => end && geodesicDistanceM(end, hidden.place as LonLat) <= reachM(hidden));
    return [
      {
        id: `line_near:${line.lineId}:${hidden.feature.id}`,
        kind: 'line_near',
        feature: hidden.feature.id,
        sentence: `Line ${line.name} ${ends ? 'begins or ends' : 'passes'} ${metres(distanceM)} from ${callOf(hidden)}.`,
        remedy: `Withholding leaves line ${line.name} out, with its readings and zones.`,
        carrier: { kind: 'line', line: line.lineId },
      },
    ];
  });
}

function zonesRound(hidden: Protected, zones: readonly ZoneFinding[], lines: readonly LineFindings[]): Leak[] {
  const byId = new Map(lines.map((line) => [line.lineId, line]));
  return zones.flatMap((zone): Leak[] => {
    const nearest = zone.footprint.reduce((least, { lineId, fromM, toM, halfWidthM }) => {
      const track = byId.get(lineId)?.track ?? [];
      const stretch = track.length < 2 ? [] : stretchOf(track, fromM, toM);
      if (stretch.length < 2) return least;
      return Math.min(least, distanceToHiddenM(hidden, 'line', [stretch]) - halfWidthM);
    }, Infinity);
    if (nearest > reachM(hidden)) return [];
    return [
      {
        id: `zone_round:${zone.key}:${hidden.feature.id}`,
        kind: 'zone_round',
        feature: hidden.feature.id,
        sentence: `The outline of ${zone.name} ${nearest <= 0 ? 'lies over' : `comes within ${metres(nearest)} of`} ${callOf(hidden)}.`,
        remedy: `Withholding leaves ${zone.name} out.`,
        carrier: { kind: 'zone', zone: zone.key },
      },
    ];
  });
}

/** A stretch of a track with the corners between its ends. */
function stretchOf(track: LineFindings['track'], fromM: number, toM: number): LonLat[] {
  const at = (chainageM: number): LonLat => {
    let i = 1;
    while (i < track.length - 1 && (track[i]?.chainageM ?? 0) < chainageM) i += 1;
    const [p, q] = [track[i - 1], track[i]] as const;
    if (!p || !q) throw new Error('a track has two points');
    const share = (chainageM - p.chainageM) / (q.chainageM - p.chainageM || 1);
    const turn = q.lon - p.lon - 360 * Math.round((q.lon - p.lon) / 360);
    return { lon: p.lon + share * turn, lat: p.lat + share * (q.lat - p.lat) };
  };
  return [at(fromM), ...track.filter(({ chainageM }) => chainageM > fromM && chainageM < toM), at(toM)];
}

/** From the nearest part of a hidden feature to a shape. */
function distanceToHiddenM(hidden: Protected, shape: 'point' | 'line', parts: readonly (readonly LonLat[])[]): number {
  const own = hidden.parts.flat();
  const places = own.length > 0 ? own : [hidden.place as LonLat];
  return Math.min(...places.map((place) => distanceToShapeM(place, shape, parts)));
}

function remotesNear(hidden: Protected, { outings, site }: Survey): Leak[] {
  return outings.flatMap((outing): Leak[] => {
    const near = outing.remotes.filter(({ position }) => isNear(hidden, [position], site.local_grids));
    if (near.length === 0) return [];
    return [
      {
        id: `remote_near:${outing.id}:${hidden.feature.id}`,
        kind: 'remote_near',
        feature: hidden.feature.id,
        sentence: `A remote electrode of ${outing.name} stood near ${callOf(hidden)}.`,
        remedy: 'Withholding leaves all remote electrodes out.',
        carrier: { kind: 'remotes', outing: outing.id },
      },
    ];
  });
}

function featuresNear(hidden: Protected, { features, site }: Survey, hiddenIds: ReadonlySet<string>): Leak[] {
  return features.flatMap((feature): Leak[] => {
    if (feature.retired || hiddenIds.has(feature.id) || !isNear(hidden, feature.positions, site.local_grids)) return [];
    return [
      {
        id: `feature_near:${feature.id}:${hidden.feature.id}`,
        kind: 'feature_near',
        feature: hidden.feature.id,
        sentence: `${feature.name ? `“${feature.name}”` : `A ${feature.type.replaceAll('_', ' ')}`} would be shown exactly and lies near ${callOf(hidden)}.`,
        remedy: 'Withholding leaves it out, with its setback.',
        carrier: { kind: 'feature', feature: feature.id },
      },
    ];
  });
}

function surroundingsNear(hidden: Protected, { surroundings, site }: Survey): Leak[] {
  return surroundings.flatMap((each): Leak[] => {
    if (each.retired || !isNear(hidden, each.positions, site.local_grids)) return [];
    return [
      {
        id: `surrounding_near:${each.id}:${hidden.feature.id}`,
        kind: 'surrounding_near',
        feature: hidden.feature.id,
        sentence: `A ${each.kind.replaceAll('_', ' ')} that was written down lies near ${callOf(hidden)}.`,
        remedy: 'Withholding leaves it out.',
        carrier: { kind: 'surrounding', surrounding: each.id },
      },
    ];
  });
}

function gridOriginsNear(hidden: Protected, { site }: Survey): Leak[] {
  return site.local_grids.flatMap((grid): Leak[] => {
    const origin = { lon: grid.origin_lon, lat: grid.origin_lat };
    if (geodesicDistanceM(origin, hidden.place as LonLat) > reachM(hidden)) return [];
    return [
      {
        id: `grid_origin_near:${grid.name}:${hidden.feature.id}`,
        kind: 'grid_origin_near',
        feature: hidden.feature.id,
        sentence: `The origin of the local grid “${grid.name}” lies near ${callOf(hidden)}.`,
        remedy: 'Withholding writes its positions in longitude and latitude and leaves local grids out.',
        carrier: { kind: 'grids' },
      },
    ];
  });
}

function isNear(hidden: Protected, positions: readonly Position[], grids: Survey['site']['local_grids']): boolean {
  return positions.some((position) => {
    const place = toLonLat(position, grids);
    return place.ok && distanceToHiddenM(hidden, 'point', [[place.value]]) <= reachM(hidden);
  });
}

function named(hidden: Protected, survey: Survey, audience: Audience, hiddenIds: ReadonlySet<string>): Leak[] {
  return textsOf(survey, audience, hiddenIds).flatMap((text): Leak[] => {
    if (!text.names(hidden.feature)) return [];
    return [
      {
        id: `named:${text.key}:${hidden.feature.id}`,
        kind: 'named',
        feature: hidden.feature.id,
        sentence: `${text.where} says “${text.text.slice(0, 80)}”, which names ${callOf(hidden)}.`,
        remedy: text.remedy,
        carrier: text.feature ? { kind: 'feature', feature: text.feature } : { kind: 'text', text: text.key },
      },
    ];
  });
}
