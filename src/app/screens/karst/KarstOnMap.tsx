import { useEffect, useRef } from 'react';
import { boundsOf, EMPTY_COLLECTION } from '../../../map/picture';
import type { SurveyMap } from '../../../map/survey-map';
import type { Survey } from '../../../survey/survey';
import { useApp, useAppState } from '../../app-context';
import { type DrawnBefore, drawFeatures } from '../../karst/draw-features';
import { inSlices } from '../../karst/in-slices';

/** Keeps the inventory on the map: drawn anew when a feature changes, never for an edit of something else. */
export function KarstOnMap({ map, survey }: { map: SurveyMap; survey: Survey }) {
  const { store } = useApp();
  const karst = useAppState((state) => state.karst);
  const selection = useAppState((state) => state.selection);
  const { features } = survey;
  const hasLines = survey.lines.length > 0;
  const { local_grids: grids } = survey.site;

  const drawnBefore = useRef<DrawnBefore>({ grids, each: new WeakMap() });
  // biome-ignore lint/correctness/useExhaustiveDependencies: features and grids are all that is drawn of a survey
  useEffect(() => {
    const { phase } = store.get();
    if (phase.kind !== 'ready') return;
    const { survey: open, findings } = phase.content;
    if (drawnBefore.current.grids !== grids) drawnBefore.current = { grids, each: new WeakMap() };
    return inSlices(drawFeatures(open, findings, drawnBefore.current), (drawn) =>
      store.dispatch({ type: 'karst', karst: { drawn } }),
    );
  }, [store, features, grids]);

  useEffect(() => {
    const { drawn, density, setbacks, shown } = karst;
    const points = shown.features ? drawn : null;
    map.showKarst({
      feature_points: points?.feature_points ?? EMPTY_COLLECTION,
      feature_lines: points?.feature_lines ?? EMPTY_COLLECTION,
      feature_areas: points?.feature_areas ?? EMPTY_COLLECTION,
      density: (shown.density && density?.drawn) || EMPTY_COLLECTION,
      setbacks: (shown.setbacks && setbacks?.drawn) || EMPTY_COLLECTION,
    });
  }, [map, karst]);

  // Many at once, such as a file that was brought in, are brought into sight.
  const before = useRef<number | null>(null);
  useEffect(() => {
    const { drawn } = karst;
    if (!drawn) return;
    const count = drawn.feature_points.features.length;
    const bounds = boundsOf([drawn.feature_points]);
    const isBrought = before.current === null ? !hasLines : count > before.current + 1;
    if (isBrought && bounds) map.frame(bounds);
    before.current = count;
  }, [map, karst, hasLines]);

  const place = selection?.kind === 'feature' ? karst.drawn?.places.get(selection.sid) : undefined;
  const [lon, lat] = [place?.lon, place?.lat];
  useEffect(() => {
    if (lon !== undefined && lat !== undefined) map.reveal(lon, lat);
  }, [map, lon, lat]);

  return null;
}
