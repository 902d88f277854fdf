import type { View } from '../map/survey-map';
import { remember, remembered } from './remembered';

/** Where a survey was looked at last on this device; null when it never was, or when what is remembered is no view. */
export function viewOf(surveyId: string | null): View | null {
  const text = surveyId === null ? null : remembered(`view.${surveyId}`);
  const [lon, lat, zoom, ...rest] = (text ?? '').split(' ').map(Number);
  if (lon === undefined || lat === undefined || zoom === undefined || rest.length > 0) return null;
  const isView = Math.abs(lon) <= 180 && Math.abs(lat) <= 90 && zoom >= 0 && zoom <= 24;
  return isView ? { lon, lat, zoom } : null;
}

export function rememberView(surveyId: string | null, { lon, lat, zoom }: View): void {
  if (surveyId !== null) remember(`view.${surveyId}`, `${lon.toFixed(6)} ${lat.toFixed(6)} ${zoom.toFixed(2)}`);
}
