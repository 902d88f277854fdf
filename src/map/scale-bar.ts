import { lengthLabel, roundLengthDown } from './round-length';

export interface ScaleBar {
  readonly label: string;
  readonly widthPx: number;
}

/** The longest round length that fits into `roomPx` at the middle of the view. */
export function scaleBar(metresPerPixel: number, roomPx: number): ScaleBar {
  const lengthM = roundLengthDown(metresPerPixel * roomPx);
  return { label: lengthLabel(lengthM), widthPx: lengthM / metresPerPixel };
}
