import { useEffect, useRef } from 'react';
import type { LineDrawing } from '../../../map/draw-line';
import { readPalette } from '../../../map/palette';
import type { SurveyMap } from '../../../map/survey-map';
import { useApp, useAppState } from '../../app-context';
import type { Content } from '../../state/app-state';

/** Draws a line on the map for as long as the margin asks for it. */
export function useLineDrawing(map: SurveyMap | null, content: Content | null): void {
  const { store } = useApp();
  const asked = useAppState(({ layout, margin }) => margin === 'lay_out' && layout.task === 'draw');
  const takenBack = useAppState(({ layout }) => layout.cornersTakenBack);
  const drawing = useRef<LineDrawing | null>(null);
  const lines = useRef(content?.findings.lines ?? []);

  useEffect(() => {
    lines.current = content?.findings.lines ?? [];
  }, [content]);

  useEffect(() => {
    if (!map || !asked) return;
    let gone = false;
    void import('../../../map/draw-line')
      .then(({ drawLine }) => {
        if (gone) return;
        drawing.current = drawLine({
          engine: map.engine,
          palette: readPalette(map.engine.getContainer()),
          snapPoints: lines.current.flatMap(({ controls }) => controls),
          metresPerPixel: () => map.metresPerPixel(),
          onDrawn: (sketch) => {
            if (!gone) store.dispatch({ type: 'layout', layout: { sketch } });
          },
        });
      })
      .catch((error: unknown) => {
        const why = error instanceof Error ? error.message : String(error);
        store.dispatch({ type: 'trouble', sentence: `Drawing on the map could not begin: ${why}` });
      });
    return () => {
      gone = true;
      drawing.current?.end();
      drawing.current = null;
    };
  }, [map, asked, store]);

  useEffect(() => {
    if (takenBack > 0) drawing.current?.undo();
  }, [takenBack]);
}
