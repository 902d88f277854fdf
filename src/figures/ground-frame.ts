import { linearScale, linearTicks, type Range, type Scale } from './axis';
import type { FigureLook } from './look';
import { lyingAxisPx, type Plot, type Tick, ticksApart, uprightAxisPx } from './plot';

/** A place on the ground with its height, where that is known. */
export interface SurfacePoint {
  readonly chainageM: number;
  readonly elevationM: number | null;
}

/** A picture of what is under a line: chainage across, depth below the surface down. */
export interface GroundFrame {
  readonly plot: Plot;
  readonly x: Scale;
  /** Height in px of a depth below the surface at a chainage. */
  readonly y: (chainageM: number, depthM: number) => number;
  /** How many times larger heights are drawn than lengths. */
  readonly exaggeration: number;
  /** Whether the surface is drawn with its heights; else it is drawn flat. */
  readonly hasHeights: boolean;
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
  /** From a tick of the upright axis to px. */
  readonly yOfTick: Scale;
  /** Chainages at which the surface may turn, from one end to the other. */
  readonly turnsM: readonly number[];
}

const LEAST_HEIGHT_PX = 130;
const MOST_HEIGHT_PX = 420;
const EXAGGERATIONS = [1, 1.5, 2, 3, 4, 5, 8, 10, 15, 20, 30, 50] as const;
/** Less relief than this is not drawn. */
const LEAST_RELIEF_M = 0.05;

/**
 * The frame that holds a stretch of line down to a depth: at one scale both ways where that leaves enough to see, else
 * with heights drawn larger by a round factor. Heights where two places at least have one, interpolated between them.
 */
export function groundFrame(
  [fromM, toM]: Range,
  deepestM: number,
  surface: readonly SurfacePoint[],
  topPx: number,
  look: FigureLook,
): GroundFrame {
  const known = surface
    .flatMap(({ chainageM, elevationM }) => (elevationM === null ? [] : [{ chainageM, elevationM }]))
    .sort((p, q) => p.chainageM - q.chainageM);
  const heights = known.map(({ elevationM }) => elevationM);
  const hasHeights = known.length >= 2 && Math.max(...heights) - Math.min(...heights) >= LEAST_RELIEF_M;
  const heightAt = (chainageM: number): number => (hasHeights ? interpolated(known, chainageM) : 0);
  const inside = known.map(({ chainageM }) => chainageM).filter((each) => each > fromM && each < toM);
  const turnsM = [fromM, ...(hasHeights ? inside : []), toM];
  const turnHeights = turnsM.map(heightAt);
  const [top, bottom] = [Math.max(...turnHeights), Math.min(...turnHeights) - deepestM];
  // Heights above the sea grow upwards; depths, where there are none, downwards.
  const tickValues = hasHeights
    ? linearTicks([bottom, top], 6).map((height) => ({ value: height, words: `${height} m` }))
    : linearTicks([0, deepestM], 6).map((depth) => ({ value: -depth, words: `${depth} m` }));
  const left = uprightAxisPx(tickValues, look) + 4;
  const right = look.widthPx - 8;
  const pxPerM = (right - left) / (toM - fromM);
  const exaggeration =
    EXAGGERATIONS.find((factor) => (top - bottom) * pxPerM * factor >= LEAST_HEIGHT_PX) ?? EXAGGERATIONS.at(-1) ?? 1;
  const heightPx = Math.min(MOST_HEIGHT_PX, (top - bottom) * pxPerM * exaggeration);
  const plot = { left, right, top: topPx, bottom: topPx + heightPx };
  const yOfTick = linearScale([top, bottom], [plot.top, plot.bottom]);
  const x = linearScale([fromM, toM], [left, right]);
  const most = Math.max(3, Math.floor((right - left) / (look.textPx * 3.4)));
  return {
    plot,
    x,
    y: (chainageM, depthM) => yOfTick(heightAt(chainageM) - depthM),
    exaggeration: heightPx / ((top - bottom) * pxPerM),
    hasHeights,
    xTicks: ticksApart(
      linearTicks([fromM, toM], most).map((value) => ({ value, words: String(value) })),
      x,
      look,
    ),
    yTicks: tickValues,
    yOfTick,
    turnsM,
  };
}

/** Height of the frame's lower edge with its axis and the name of that axis. */
export const belowFramePx = (look: FigureLook): number => lyingAxisPx(look) + look.textPx * 1.4;

/** "drawn at one scale both ways", or how much larger heights are. */
export function scaleWords({ exaggeration }: GroundFrame): string {
  const times = Number(exaggeration.toPrecision(2));
  return times === 1 ? 'one scale both ways' : `depth drawn ${times} × as large as length`;
}

function interpolated(
  known: readonly { readonly chainageM: number; readonly elevationM: number }[],
  chainageM: number,
): number {
  const next = known.findIndex((point) => point.chainageM >= chainageM);
  if (next === -1) return known.at(-1)?.elevationM ?? 0;
  const [p, q] = [known[next - 1], known[next]];
  if (!q) return 0;
  if (!p || q.chainageM === p.chainageM) return q.elevationM;
  const t = (chainageM - p.chainageM) / (q.chainageM - p.chainageM);
  return p.elevationM + t * (q.elevationM - p.elevationM);
}
