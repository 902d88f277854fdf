import { BACKDROP, BACKDROP_BELOW, backdropLayers, backdropSource, type DrawnBackdrop } from './backdrop';
import type { MapEngine } from './map-engine';
import type { Palette } from './palette';
import { repaint } from './restyle';

/** What drawing a backdrop asks of the map besides what the survey asks. */
export type BackdropEngine = Pick<MapEngine, 'getSource' | 'setFilter' | 'setPaintProperty' | 'setLayoutProperty'> & {
  addSource(id: string, source: ReturnType<typeof backdropSource>): unknown;
  removeSource(id: string): unknown;
  addLayer(layer: ReturnType<typeof backdropLayers>[number], below: string): unknown;
  removeLayer(id: string): unknown;
  getLayersOrder(): string[];
};

/** A backdrop and how strong it is drawn, 0 to 1: the paper shows through the rest. */
export interface ShownBackdrop {
  readonly drawn: DrawnBackdrop;
  readonly opacity: number;
}

/** Keeps one backdrop under everything else; `null` leaves paper and grid. Told again when the theme changes. */
export function backdropDrawing(engine: BackdropEngine): (shown: ShownBackdrop | null, palette: Palette) => void {
  let before: { readonly drawn: DrawnBackdrop; readonly layers: ReturnType<typeof backdropLayers> } | null = null;
  const takeAway = (): void => {
    for (const id of engine.getLayersOrder()) {
      if (id === BACKDROP || id.startsWith(`${BACKDROP}_`)) engine.removeLayer(id);
    }
    if (engine.getSource(BACKDROP)) engine.removeSource(BACKDROP);
  };
  return (shown, palette) => {
    const layers = shown && backdropLayers(shown.drawn, palette, shown.opacity);
    if (before && layers && before.drawn === shown.drawn) {
      // Its tiles stay: only the look is another.
      repaint(engine, before.layers, layers);
    } else {
      takeAway();
      if (shown) engine.addSource(BACKDROP, backdropSource(shown.drawn));
      for (const layer of layers ?? []) engine.addLayer(layer, BACKDROP_BELOW);
    }
    before = shown && layers && { drawn: shown.drawn, layers };
  };
}
