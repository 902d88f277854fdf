/** The codes of the W3C's interface. */
const DENIED = 1;
const UNAVAILABLE = 2;
export const NO_FIX_IN_TIME = 3;

export const NOT_FOR_THIS_PAGE =
  'A browser gives its position only to a page with https or on this very device. Open the page so, or type coordinates.';

/** Why no position comes, and what to do about it. */
export function gpsFailureWords({ code }: { readonly code: number }): string {
  if (code === DENIED) {
    return 'This page may not ask where the device is. Allow it in the browser (the sign beside the address) and in the device’s own settings, or type coordinates.';
  }
  if (code === UNAVAILABLE) {
    return 'The device finds no position. Is location switched on? Move away from trees and walls, hold the device flat, and try again.';
  }
  return 'No position came in time. Go where you see more of the sky and try again.';
}
