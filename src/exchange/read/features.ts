import type { Draft } from './draft';
import { COORDINATES, hasPlace, noteUnusedPair, readPlace } from './place';
import type { Sheet } from './sheet';
import { FEATURE_STATUS, readFeatureStatus } from './vocabulary';
import { readWhen } from './when';

/** Reads a table of karst features, one point a row, into the draft. A blank status is `reported`. */
export function readFeatures(sheet: Sheet, draft: Draft): void {
  const troubles = sheet.notes.troubles;
  if (!sheet.has('type')) sheet.missing('type', 'type, such as doline, ponor, cave_entrance');
  if (!hasPlace(sheet)) sheet.missing('lon', COORDINATES);
  if (sheet.notes.troubles > troubles) return;
  noteUnusedPair(sheet);

  for (const row of sheet.rows) {
    const before = sheet.notes.troubles;
    const type = sheet.required(row, 'type', 'a kind of feature, such as doline');
    const place = readPlace(sheet, row);
    const status = sheet.word(row, 'status', readFeatureStatus, FEATURE_STATUS) ?? 'reported';
    const observedAt = readWhen(sheet, row);
    if (sheet.notes.troubles > before || type === null) continue;
    if (place === null) {
      sheet.wrong(row, sheet.has('lon') ? 'lon' : 'easting', '', 'a place');
      continue;
    }
    // A source is that of the feature, where the table names only one.
    const { source, ...position } = place.position;
    const said = {
      external_id: sheet.text(row, 'external_id'),
      name: sheet.text(row, 'name'),
      source: source ?? null,
      confidentiality: sheet.text(row, 'confidentiality'),
      note: sheet.text(row, 'note'),
      observed_at: observedAt,
    };
    draft.features.push({
      values: {
        type,
        status,
        shape: 'point',
        positions: [position],
        ...Object.fromEntries(Object.entries(said).filter(([, value]) => value !== null)),
      },
    });
  }
}
