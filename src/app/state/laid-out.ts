import type { Feature, FeatureCollection, LineString } from 'geojson';
import type { EllipseFinding, Findings } from '../../findings';
import { localPlane } from '../../map/local-plane';
import type { LaidOut } from '../../map/survey-map';
import type { Line, Survey } from '../../survey/survey';
import type { LayoutState } from './layout-state';
import { type Stake, stakesOf } from './stakes';

const NONE: FeatureCollection = { type: 'FeatureCollection', features: [] };
export const NOTHING_LAID_OUT: LaidOut = { ellipses: NONE, stakes: NONE, handles: NONE };
const ELLIPSE_SIDES = 48;
/** More ellipses than these hide each other. */
const MOST_ELLIPSES = 25;
/** Half the length of a stake's tick, metres on the ground. */
const TICK_M = 0.6;

/** What the Lay out margin draws of the open line: how sure its places are, its stakes, and points that can be moved. */
export function laidOut(
  survey: Survey,
  findings: Findings,
  { line, stakesM, task }: Pick<LayoutState, 'line' | 'stakesM' | 'task'>,
): LaidOut {
  const found = findings.lines.find(({ lineId }) => lineId === line);
  const record = survey.lines.find(({ id, retired }) => id === line && !retired);
  if (!found || !record) return NOTHING_LAID_OUT;
  const electrodes = found.electrodes.filter(({ chainageM }) => chainageM !== null);
  const places: readonly Unsure[] = electrodes.length > 0 ? electrodes : found.controls;
  const ellipses = evenly(places, MOST_ELLIPSES).map(({ lon, lat, ellipse95, uncertainty95M }) => {
    const round = { semiMajorM: uncertainty95M, semiMinorM: uncertainty95M, azimuthDeg: 0 };
    return ellipse(lon, lat, ellipse95 ?? round);
  });
  const stakes = stakesM === null ? [] : stakesOf(found, stakesM);
  return {
    ellipses: collection(ellipses),
    stakes: collection(stakes.flatMap(stakeFeatures)),
    handles: task === 'move' ? handlesOf(record, findings) : NONE,
  };
}

interface Unsure {
  readonly lon: number;
  readonly lat: number;
  readonly uncertainty95M: number;
  readonly ellipse95?: EllipseFinding | null;
}

/** At most so many of a list, evenly, with its first and its last. */
function evenly<T>(list: readonly T[], most: number): readonly T[] {
  if (list.length <= most) return list;
  return Array.from({ length: most }, (_, i) => list[Math.round((i * (list.length - 1)) / (most - 1))] as T);
}

const collection = (features: readonly Feature[]): FeatureCollection => ({
  type: 'FeatureCollection',
  features: [...features],
});

/** The points of a line that somebody placed, which are the ones that can be moved. */
function handlesOf(line: Line, findings: Findings): FeatureCollection {
  const controls = findings.lines.find(({ lineId }) => lineId === line.id)?.controls ?? [];
  const movable = new Set<string>(
    line.path.flatMap(({ kind, id, retired }) => (kind === 'fix' && !retired ? [id] : [])),
  );
  return collection(
    controls.flatMap(({ id, lon, lat, chainageM }): Feature[] => {
      if (!movable.has(id)) return [];
      const properties = { sid: id, label: `${Number(chainageM.toFixed(2))} m` };
      return [{ type: 'Feature', properties, geometry: { type: 'Point', coordinates: [lon, lat] } }];
    }),
  );
}

/** An ellipse at the scale of the ground. */
export function ellipse(
  lon: number,
  lat: number,
  { semiMajorM, semiMinorM, azimuthDeg }: EllipseFinding,
): Feature<LineString> {
  const plane = localPlane(lon, lat);
  const azimuth = (azimuthDeg * Math.PI) / 180;
  const coordinates = Array.from({ length: ELLIPSE_SIDES + 1 }, (_, i) => {
    const turn = ((i % ELLIPSE_SIDES) / ELLIPSE_SIDES) * 2 * Math.PI;
    const [along, across] = [semiMajorM * Math.cos(turn), semiMinorM * Math.sin(turn)];
    const east = along * Math.sin(azimuth) + across * Math.cos(azimuth);
    const north = along * Math.cos(azimuth) - across * Math.sin(azimuth);
    const place = plane.toLonLat(east, north);
    return [place.lon, place.lat];
  });
  return { type: 'Feature', properties: {}, geometry: { type: 'LineString', coordinates } };
}

function stakeFeatures({ lon, lat, azimuthDeg, chainageM }: Stake): Feature[] {
  const plane = localPlane(lon, lat);
  const azimuth = (azimuthDeg * Math.PI) / 180;
  const end = (side: 1 | -1): number[] => {
    const place = plane.toLonLat(side * TICK_M * Math.cos(azimuth), -side * TICK_M * Math.sin(azimuth));
    return [place.lon, place.lat];
  };
  const label = String(Number(chainageM.toFixed(2)));
  return [
    { type: 'Feature', properties: {}, geometry: { type: 'LineString', coordinates: [end(-1), end(1)] } },
    { type: 'Feature', properties: { label }, geometry: { type: 'Point', coordinates: [lon, lat] } },
  ];
}
