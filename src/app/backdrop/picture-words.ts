import type { LonLat } from '../../position/crs';
import { geodesicDistanceM } from '../../position/geodesic';
import type { PictureCorners, PictureFit } from '../../position/picture-fit';

/** Farther from the survey than this a picture was hardly meant for it (choice). */
const FAR_M = 20_000;

const lengthWords = (m: number): string =>
  m < 1000 ? `${Number(m.toPrecision(3))} m` : `${Number((m / 1000).toPrecision(3))} km`;

/** How large a picture is on the ground, and how far from the survey where that is far: what shows a wrong tie or system. */
export function cornersWords(corners: PictureCorners, site: LonLat | null): string {
  const [topLeft, topRight, , bottomLeft] = corners;
  const across = geodesicDistanceM(topLeft, topRight);
  const down = geodesicDistanceM(topLeft, bottomLeft);
  const away = site ? Math.min(...corners.map((corner) => geodesicDistanceM(corner, site))) : 0;
  const far = away > FAR_M ? ` It lies ${lengthWords(away)} from the survey: is that right?` : '';
  return `The picture covers ${lengthWords(across)} by ${lengthWords(down)}.${far}`;
}

/** How well more ties than are needed agree; nothing can be said of two or three. */
export const fitWords = ({ rmsM, residualsM }: PictureFit): string =>
  rmsM === null
    ? 'The points fit exactly, as so few always do; a fourth would show a slip.'
    : `The points disagree by ${residualsM.map((m) => `${m.toFixed(1)} m`).join(', ')}.`;
