import { datumUncertaintyOf } from '../../position/crs';
import { datumOf } from '../../position/datum';
import { nameList } from '../../survey/wording';
import type { Draft, FixDraft } from './draft';
import type { Sheet } from './sheet';

/**
 * Notes for tables whose placed points stand on different datums: each is brought to WGS 84 by itself, but points of one
 * line may end up a metre or more apart. A table that is WGS 84 and nothing else has none, nor one of a single datum.
 */
export function noteMixedDatums(draft: Draft): void {
  const seen = new Map<Sheet, Map<string, FixDraft>>();
  for (const line of draft.lines.values()) {
    for (const fix of line.fixes) {
      const datum = datumOf(fix.position.crs);
      if (datum === null) continue;
      const { sheet } = fix.source;
      const first = seen.get(sheet) ?? new Map<string, FixDraft>();
      if (!first.has(datum)) first.set(datum, fix);
      seen.set(sheet, first);
    }
  }
  for (const [sheet, datums] of seen) {
    const second = [...datums.values()][1];
    if (!second) continue;
    const apartM = Math.max(...[...datums.values()].map(({ position }) => datumUncertaintyOf(position.crs)));
    const names = nameList([...datums.keys()]);
    sheet.notes.guessed(
      sheet.where(second.source.row, 'epsg'),
      names,
      'one datum in one table',
      `${sheet.file}: points are given in different datums (${names}). Each was brought to WGS 84 by itself, good to about ${apartM} m. Convert them to one datum first if the line needs more.`,
    );
  }
}
