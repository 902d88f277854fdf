import { type Draft, lineOf } from './draft';
import type { Sheet } from './sheet';
import { readBearingReference } from './vocabulary';
import { readWhen } from './when';

/** Reads a table of legs, tape and compass from a chainage on, into the draft. */
export function readLegs(sheet: Sheet, draft: Draft): void {
  const troubles = sheet.notes.troubles;
  for (const field of ['line', 'from_chainage_m', 'bearing_deg', 'distance_m'] as const) {
    if (!sheet.has(field)) sheet.missing(field, field);
  }
  if (!sheet.has('bearing_ref')) sheet.missing('bearing_ref', 'bearing_ref, one of true, magnetic, grid');
  if (sheet.notes.troubles > troubles) return;

  for (const row of sheet.rows) {
    const before = sheet.notes.troubles;
    const name = sheet.required(row, 'line', 'the name of a line');
    const fromM = sheet.number(row, 'from_chainage_m');
    const bearingDeg = sheet.number(row, 'bearing_deg');
    const reference = sheet.word(row, 'bearing_ref', readBearingReference, ['true', 'magnetic', 'grid']);
    const distanceM = sheet.positive(row, 'distance_m');
    const slopeDeg = sheet.number(row, 'slope_deg');
    const date = readWhen(sheet, row);
    if (bearingDeg !== null && !(bearingDeg >= 0 && bearingDeg <= 360)) {
      sheet.wrong(row, 'bearing_deg', String(bearingDeg), 'a bearing from 0 to 360 degrees');
    }
    if (slopeDeg !== null && !(Math.abs(slopeDeg) < 90)) {
      sheet.wrong(row, 'slope_deg', String(slopeDeg), 'a slope between -90 and 90 degrees');
    }
    if (sheet.notes.troubles > before || name === null) continue;
    if (fromM === null || bearingDeg === null || reference === null || distanceM === null) {
      sheet.required(row, 'from_chainage_m', 'a chainage in metres');
      sheet.required(row, 'bearing_deg', 'a bearing in degrees');
      sheet.required(row, 'bearing_ref', 'one of true, magnetic, grid');
      sheet.required(row, 'distance_m', 'a distance in metres');
      continue;
    }
    lineOf(draft, name, { sheet, row }).legs.push({
      from_chainage_m: fromM,
      bearing_deg: bearingDeg,
      bearing_reference: reference,
      distance_m: distanceM,
      ...(slopeDeg === null ? {} : { slope_deg: slopeDeg }),
      ...(date === null ? {} : { date }),
    });
  }
}
