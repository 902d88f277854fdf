import type { Track } from '../../position/track';
import { isTwoProbe } from '../../survey/hookup';
import { chainageList, counted, metres } from '../../survey/wording';
import { widestM } from './beside-line';
import { type DoubtContext, doubtAbout, type FindDoubts, type ScoredPlace, type StationPlace } from './doubt-context';

/** A degree of latitude is nowhere shorter, m; longitudes are left to the plane. */
const METRES_PER_DEGREE = 110_000;
/** Readings of a station itself are not set against it. */
const AT_STATION_M = 0.05;

/**
 * Stations of a reference within the largest spacing of places that clearly stand out: what makes these stand out is in
 * the reference too, and takes itself out of every ratio. Two-probe hints follow rods, not ground, and say nothing here.
 */
export const referenceTooClose: FindDoubts = (context) => {
  const { line, placed, places, stations } = context;
  if (!placed.ok || stations.length === 0) return [];
  const standing = places.filter(
    ({ place, score }) => !isTwoProbe(place.hookup) && (score.grade === 'clear' || score.grade === 'strong'),
  );
  if (standing.length === 0) return [];
  const reachM = widestM(places);
  const close = stations.filter((station) => isClose(station, context, placed.track, standing, reachM));
  if (close.length === 0) return [];
  const own = close.filter((station) => station.line === line.id);
  const where =
    own.length === close.length ? ` (${chainageList(own.map(({ chainageM }) => chainageM))} on this line)` : '';
  return [
    doubtAbout({
      code: 'reference_too_close',
      severity: 'warning',
      line: line.id,
      sentence: `Line ${line.name}: ${counted(close.length, 'reference station')}${where} ${close.length === 1 ? 'lies' : 'lie'} within the largest spacing (${metres(reachM)}) of readings that stand out clearly: what is there may be in the reference too, and then ratios come out too near 1.`,
      remedy: 'Take reference stations farther away than the largest spacing from anything that stands out.',
      readings: standing.flatMap(({ place }) => place.figures.map(({ reading }) => reading.id)),
    }),
  ];
};

function isClose(
  station: StationPlace,
  { line }: DoubtContext,
  track: Track,
  standing: readonly ScoredPlace[],
  reachM: number,
): boolean {
  if (station.line === line.id) {
    return standing.some(({ place }) => {
      const apartM = Math.abs(place.chainageM - station.chainageM);
      return apartM > AT_STATION_M && apartM <= reachM;
    });
  }
  const middle = track.placeAt((track.fromM + track.toM) / 2);
  const farthestM = (track.toM - track.fromM) / 2 + reachM + 100;
  if (Math.abs(station.lat - middle.lat) * METRES_PER_DEGREE > farthestM) return false;
  const [x, y] = track.plane.toPlane(station.lon, station.lat);
  const [midX, midY] = track.plane.toPlane(middle.lon, middle.lat);
  if (!(Math.hypot(x - midX, y - midY) <= farthestM)) return false;
  return standing.some(({ place }) => {
    const { lon, lat } = track.placeAt(place.chainageM);
    const [px, py] = track.plane.toPlane(lon, lat);
    return Math.hypot(px - x, py - y) <= reachM;
  });
}
