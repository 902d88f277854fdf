import type { Findings, LineFindings, ZoneFinding } from '../findings';
import type { LonLat } from '../position/crs';
import { localPlane, toLonLat } from '../position/crs';
import { geodesicDistanceM } from '../position/geodesic';
import type { Line, Position, Survey } from '../survey/survey';
import { metres } from '../survey/wording';
import { callOf, type Leak } from './leak';
import { distanceToHiddenM, nearIndex, reachM, type Shown } from './near';
import type { Protected } from './protected';

/** A line that ends within so many radii of a place and would run through it if it went on points to it. Choice. */
const POINTS_WITHIN = 4;

interface ShownLine {
  readonly line: Line;
  readonly track: LineFindings['track'];
}

/** Lines that come near hidden features, begin or end there, or point to them; and zones that lie about them. */
export function lineLeaks(shown: Survey, findings: Findings, hidden: readonly Protected[]): readonly Leak[] {
  const tracks = new Map(findings.lines.map((line) => [line.lineId, line]));
  const readings = new Map<string, Position[]>();
  for (const { line, position } of shown.readings) {
    if (!position) continue;
    const own = readings.get(line);
    if (own) own.push(position);
    else readings.set(line, [position]);
  }
  const lines = nearIndex(
    shown.lines.map((line): Shown<ShownLine> => {
      const found = tracks.get(line.id);
      // What was measured in is in the record even where the line could not be placed, or runs elsewhere by the rest.
      const measured = [...positionsOf(line), ...(readings.get(line.id) ?? [])].flatMap((position) => {
        const place = toLonLat(position, shown.site.local_grids);
        return place.ok ? [[place.value]] : [];
      });
      const track = found?.track ?? [];
      const controls = (found?.controls ?? []).map(({ lon, lat }) => [{ lon, lat }]);
      return { value: { line, track }, parts: [...(track.length > 1 ? [track] : []), ...measured, ...controls] };
    }),
  );
  const zones = nearIndex(
    findings.zones.flatMap((zone): Shown<ZoneFinding>[] => {
      const parts = zone.footprint.flatMap(({ lineId, fromM, toM }) => {
        const track = tracks.get(lineId)?.track ?? [];
        return track.length < 2 ? [] : [stretchOf(track, fromM, toM)];
      });
      return parts.length > 0 ? [{ value: zone, parts }] : [];
    }),
  );
  const widestM = findings.zones.reduce(
    (most, { footprint }) => footprint.reduce((width, { halfWidthM }) => Math.max(width, halfWidthM), most),
    0,
  );
  return hidden.flatMap((each) => {
    if (!each.place) return [];
    const reach = reachM(each);
    return [
      ...lines(each, reach * (1 + POINTS_WITHIN)).flatMap((line) => lineLeak(each, line)),
      ...zones(each, reach + widestM).flatMap((zone) => zoneLeak(each, zone)),
    ];
  });
}

function positionsOf({ path }: Line): readonly Position[] {
  return path.flatMap((item): readonly Position[] => {
    if (item.kind === 'fix') return [item.position, ...(item.singles ?? [])];
    if (item.kind === 'two_tapes') return [item.first, item.second];
    return item.kind === 'bearing' ? [item.position] : [];
  });
}

function lineLeak(hidden: Protected, { parts, value: { line, track } }: Shown<ShownLine>): readonly Leak[] {
  const distanceM = distanceToHiddenM(hidden, parts);
  const reach = reachM(hidden);
  const ends = [track[0], track[track.length - 1]].flatMap((end) => (end ? [{ lon: end.lon, lat: end.lat }] : []));
  const isEnd = ends.some((end) => geodesicDistanceM(end, hidden.place as LonLat) <= reach);
  const how =
    distanceM <= reach ? (isEnd ? 'begins or ends' : 'passes') : pointsTo(hidden, track) ? 'points to it,' : null;
  if (how === null) return [];
  return [
    {
      id: `line_near:${line.id}:${hidden.feature.id}`,
      kind: 'line_near',
      feature: hidden.feature.id,
      sentence: `Line ${line.name} ${how} ${metres(Number(distanceM.toFixed(1)))} from ${callOf(hidden.feature)}.`,
      remedy: `Withholding leaves line ${line.name} out, with its readings and zones.`,
      carrier: { kind: 'line', line: line.id },
    },
  ];
}

/** Whether a line, going on beyond one of its ends, would soon come by. */
function pointsTo(hidden: Protected, track: LineFindings['track']): boolean {
  const place = hidden.place as LonLat;
  const plane = localPlane(place.lon, place.lat);
  const n = track.length;
  return [
    [track[1], track[0]],
    [track[n - 2], track[n - 1]],
  ].some(([before, end]) => {
    if (!before || !end) return false;
    const [px, py] = plane.toPlane(before.lon, before.lat);
    const [qx, qy] = plane.toPlane(end.lon, end.lat);
    const long = Math.hypot(qx - px, qy - py);
    if (!(long > 0)) return false;
    const [ux, uy] = [(qx - px) / long, (qy - py) / long];
    const along = -(qx * ux + qy * uy);
    const beside = Math.abs(qx * uy - qy * ux);
    return along > 0 && along <= POINTS_WITHIN * reachM(hidden) && beside <= reachM(hidden) / 2;
  });
}

function zoneLeak(hidden: Protected, { parts, value: zone }: Shown<ZoneFinding>): readonly Leak[] {
  const widestM = Math.max(0, ...zone.footprint.map(({ halfWidthM }) => halfWidthM));
  const nearest = distanceToHiddenM(hidden, parts) - widestM;
  if (nearest > reachM(hidden)) return [];
  const how = nearest <= 0 ? 'lies over' : `comes within ${metres(Number(nearest.toFixed(1)))} of`;
  return [
    {
      id: `zone_round:${zone.key}:${hidden.feature.id}`,
      kind: 'zone_round',
      feature: hidden.feature.id,
      sentence: `The outline of ${zone.name} ${how} ${callOf(hidden.feature)}.`,
      remedy: `Withholding leaves ${zone.name} out.`,
      carrier: { kind: 'zone', zone: zone.key },
    },
  ];
}

/** A stretch of a track with the corners between its ends. */
export function stretchOf(track: LineFindings['track'], fromM: number, toM: number): LonLat[] {
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
