import type { LineFindings, TrackVertex } from '../../findings';

export interface Stake {
  readonly chainageM: number;
  readonly lon: number;
  readonly lat: number;
  readonly uncertainty95M: number;
  /** Of the line here, degrees clockwise from north on the map: a tick stands across it. */
  readonly azimuthDeg: number;
}

const MOST_STAKES = 1000;

/** Stakes at every multiple of a step between the ends of a placed line, and at both its ends. */
export function stakesOf(line: LineFindings, everyM: number): readonly Stake[] {
  const first = line.track[0];
  const last = line.track[line.track.length - 1];
  if (!first || !last || !(everyM > 0) || (last.chainageM - first.chainageM) / everyM > MOST_STAKES) return [];
  const chainages = [first.chainageM];
  for (let k = Math.ceil(first.chainageM / everyM + 1e-9); k * everyM < last.chainageM - 1e-6; k += 1) {
    chainages.push(Number((k * everyM).toFixed(3)));
  }
  chainages.push(last.chainageM);
  return chainages.map((chainageM) => stakeAt(line, chainageM));
}

function stakeAt(line: LineFindings, chainageM: number): Stake {
  const { track } = line;
  let k = 1;
  while (k < track.length - 1 && (track[k] as TrackVertex).chainageM < chainageM) k += 1;
  const p = track[k - 1] as TrackVertex;
  const q = (track[k] ?? p) as TrackVertex;
  const share = q.chainageM > p.chainageM ? (chainageM - p.chainageM) / (q.chainageM - p.chainageM) : 0;
  const east = shortWay(q.lon - p.lon);
  const lon = p.lon + share * east;
  return {
    chainageM,
    lon: shortWay(lon),
    lat: p.lat + share * (q.lat - p.lat),
    uncertainty95M: nearestUncertaintyM(line, chainageM),
    azimuthDeg: (Math.atan2(east * Math.cos((p.lat * Math.PI) / 180), q.lat - p.lat) * 180) / Math.PI,
  };
}

const shortWay = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);

/** As sure as the surest electrode or placed point near by is unsure: the nearest of both kinds. */
function nearestUncertaintyM({ electrodes, controls }: LineFindings, chainageM: number): number {
  let nearest = { apartM: Infinity, uncertainty95M: Number.NaN };
  for (const { chainageM: at, uncertainty95M } of electrodes.length > 0 ? electrodes : controls) {
    if (at === null) continue;
    const apartM = Math.abs(at - chainageM);
    if (apartM < nearest.apartM) nearest = { apartM, uncertainty95M };
  }
  return nearest.uncertainty95M;
}
