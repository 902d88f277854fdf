import type { Survey } from '../../survey/survey';
import type { AssignedPlaces } from './assign-places';
import type { Draft } from './draft';
import { DrawnLines } from './drawn-lines';
import { NamedPoints } from './named-points';
import type { Notebook } from './notebook';
import { PlacesDrafting } from './places-drafting';
import type { PlacesFormat } from './places-file';
import type { FilePlaces } from './places-map';

/**
 * Puts matched places into the draft, as rows of a positions table are: what is left out, and what was guessed, is told in
 * the notebook.
 * @returns how many fixes and remote electrodes went in
 */
export function draftPlaces(
  { lines, points }: AssignedPlaces,
  format: PlacesFormat,
  map: FilePlaces | null,
  draft: Draft,
  into: Survey | undefined,
  notes: Notebook,
): { readonly taken: number } {
  const drafting = new PlacesDrafting(format, map, draft, into, notes);
  const drawnLines = new DrawnLines(drafting);
  for (const line of lines) drawnLines.add(line);
  // Points after lines, since they may stand on them.
  new NamedPoints(drafting).add(points);
  drafting.tellMeasured();
  return { taken: drafting.taken };
}
