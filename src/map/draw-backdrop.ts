import { BACKDROP, BACKDROP_BELOW, backdropLayers, backdropSource, type DrawnBackdrop } from './backdrop';
import type { MapEngine } from './map-engine';
import type { Palette } from './palette';

/** What drawing a backdrop asks of the map besides what the survey asks. */
export type BackdropEngine = Pick<MapEngine, 'getSource'> & {
  addSource(id: string, source: ReturnType<typeof backdropSource>): unknown;
  removeSource(id: string): unknown;
  addLayer(layer: ReturnType<typeof backdropLayers>[number], below: string): unknown;
  removeLayer(id: string): unknown;
  getLayersOrder(): string[];
};

/** Takes away what was drawn before and draws a backdrop under everything else; null leaves paper and grid. */
export function drawBackdrop(
  engine: BackdropEngine,
  drawn: DrawnBackdrop | null,
  palette: Palette,
  opacity: number,
): void {
  for (const id of engine.getLayersOrder()) {
    if (id === BACKDROP || id.startsWith(`${BACKDROP}_`)) engine.removeLayer(id);
  }
  if (engine.getSource(BACKDROP)) engine.removeSource(BACKDROP);
  if (!drawn) return;
  engine.addSource(BACKDROP, backdropSource(drawn));
  for (const layer of backdropLayers(drawn, palette, opacity)) engine.addLayer(layer, BACKDROP_BELOW);
}
