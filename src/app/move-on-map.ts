import type { MapPlace } from '../map/survey-map';
import { movePoint } from '../survey/path-edits';
import type { AppParts } from './app-context';
import { edit } from './edit';
import { drawnAccuracy95M, pointedPosition } from './state/map-accuracy';

/** A placed point of the open line was dragged elsewhere: one edit. */
export async function moveOnMap(parts: AppParts, itemId: string, place: MapPlace): Promise<void> {
  const { phase, layout } = parts.store.get();
  if (phase.kind !== 'ready') return;
  const { line } = layout;
  const item = phase.content.survey.lines.find(({ id }) => id === line)?.path.find(({ id }) => id === itemId);
  if (!line || !item) return;
  const drawn95M = drawnAccuracy95M(phase.content.findings);
  const outcome = await edit(parts, (survey, author) =>
    movePoint(survey, line, item.id, pointedPosition(place, drawn95M, author.at), author),
  );
  if (!outcome.ok) parts.store.dispatch({ type: 'trouble', sentence: outcome.sentence });
}
