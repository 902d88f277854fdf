import { lazy, Suspense, useEffect, useMemo, useRef, useState } from 'react';
import { midpointSidOf } from '../../exchange/write/layer-collection';
import { readPalette } from '../../map/palette';
import { boundsOfPlaces, type Picture, picture } from '../../map/picture';
import type { Theme } from '../../map/ramp';
import type { MapPlace, MapScene, MapTarget, SurveyMap, ViewScale } from '../../map/survey-map';
import { done } from '../../survey/outcome';
import { type AppParts, useApp, useAppState } from '../app-context';
import { backdropChoice } from '../backdrop/backdrop-choice';
import { edit } from '../edit';
import { offerForInspection } from '../inspection';
import type { AppState, Content, Selection } from '../state/app-state';
import { indexOf } from '../state/index-of';
import { karstMarks } from '../state/karst-marks';
import { laidOut, NOTHING_LAID_OUT } from '../state/laid-out';
import { layoutMarks } from '../state/layout-marks';
import { selectedPlace, selectedPlaces } from '../state/selected-places';
import { placeOfZone } from '../state/zone-place';
import { rememberView, viewOf } from '../view-memory';
import { BackdropOnMap } from './backdrop/BackdropOnMap';
import { HereOnMap } from './field/HereOnMap';
import { useLineDrawing } from './layout/use-line-drawing';
import { MapHeader } from './MapHeader';
import { MapKey } from './MapKey';
import { MapTools } from './MapTools';
import { SpacingPicker } from './SpacingPicker';
import { TroubleNote } from './TroubleNote';

/** The header, the tools and the key lie on the map; the margin lies beside it. */
const COVERED = { top: 70, right: 44, bottom: 60, left: 24 } as const;
const WHOLE_EARTH = [-180, -60, 180, 75] as const;
const NO_PLACES: MapScene['selectedPlaces'] = { type: 'FeatureCollection', features: [] };

function selectedSids(content: Content | null, selection: Selection | null): MapScene['selected'] {
  if (!content || !selection) return {};
  if (selection.kind === 'electrode') return { electrodes: [selection.sid] };
  if (selection.kind === 'zone') return { zones: [selection.sid] };
  if (selection.kind === 'feature') return {};
  return { midpoints: [selection.sid] };
}

function placesOf(content: Content | null, selection: Selection | null): MapScene['selectedPlaces'] {
  if (!content || !selection) return NO_PLACES;
  const index = indexOf(content);
  if (selection.kind === 'midpoint') {
    const entry = index.bySid.get(selection.sid);
    return entry ? selectedPlaces(entry.finding, entry.line) : NO_PLACES;
  }
  if (selection.kind === 'zone' || selection.kind === 'feature') return NO_PLACES;
  const found = index.electrodeBySid.get(selection.sid);
  return found ? selectedPlace(found.electrode.lon, found.electrode.lat, found.electrode.uncertainty95M) : NO_PLACES;
}

function placeOf(content: Content, selection: Selection): { lon: number; lat: number } | null {
  const index = indexOf(content);
  if (selection.kind === 'zone') return placeOfZone(content.findings, selection.sid);
  if (selection.kind === 'feature') return null;
  return selection.kind === 'midpoint'
    ? (index.bySid.get(selection.sid)?.finding ?? null)
    : (index.electrodeBySid.get(selection.sid)?.electrode ?? null);
}

const palettes = new Map<Theme, ReturnType<typeof readPalette>>();

/** The palette under a theme, read once: asking the style sheet makes the browser lay the page out. */
function paletteOf(theme: Theme, ground: Element): ReturnType<typeof readPalette> {
  const palette = palettes.get(theme) ?? readPalette(ground);
  palettes.set(theme, palette);
  return palette;
}

// Loaded with the margin that it belongs to.
const PlaceReadout = lazy(async () => ({ default: (await import('./layout/PlaceReadout')).PlaceReadout }));

const KarstOnMap = lazy(async () => ({ default: (await import('./karst/KarstOnMap')).KarstOnMap }));

const ComparisonOnMap = lazy(async () => ({
  default: (await import('./compare/ComparisonOnMap')).ComparisonOnMap,
}));

const drawnSurveyId = ({ drawn }: AppState): string | null => drawn?.surveyId ?? null;

/** A stroke stands for its reading, however it is laid just now. */
function selectionAt({ phase }: AppState, target: MapTarget | null): Selection | null {
  if (phase.kind !== 'ready' || !target) return null;
  if (target.kind === 'next') {
    const next = phase.content.findings.nextReadings.find(({ key }) => key === target.sid);
    return next ? { kind: 'zone', sid: next.zone } : null;
  }
  if (target.kind !== 'midpoint') return { kind: target.kind, sid: target.sid };
  const sid = midpointSidOf(target.sid);
  return indexOf(phase.content).bySid.has(sid) ? { kind: 'midpoint', sid } : null;
}

/** While a line is laid out a tap on the map answers the form that asked, or opens the line that was tapped. */
function tapped({ store }: AppParts, target: MapTarget | null, place: MapPlace): void {
  const state = store.get();
  if (state.margin !== 'lay_out') {
    store.dispatch({ type: 'select', selection: selectionAt(state, target) });
    return;
  }
  const { layout, phase } = state;
  if (layout.task === 'place') store.dispatch({ type: 'layout', layout: { placed: place } });
  if (layout.task !== null || layout.line !== null || phase.kind !== 'ready') return;
  const found = selectionAt(state, target);
  const index = indexOf(phase.content);
  const line = found && (index.bySid.get(found.sid) ?? index.electrodeBySid.get(found.sid))?.line.lineId;
  if (line) store.dispatch({ type: 'layout', layout: { line } });
}

/** The map and what lies on its edges. It is made once and told what to show. */
export function MapStage({ theme }: { theme: Theme }) {
  const parts = useApp();
  const { store } = parts;
  const content = useAppState(({ phase }) => (phase.kind === 'ready' ? phase.content : null));
  const drawn = useAppState((state) => state.drawn);
  const relief = useAppState((state) => state.relief);
  const spacing = useAppState((state) => state.spacing);
  const selection = useAppState((state) => state.selection);
  const layingOut = useAppState((state) => state.margin === 'lay_out');
  const karstOpen = useAppState((state) => state.margin === 'karst');
  const layout = useAppState((state) => state.layout);
  const ground = useRef<HTMLDivElement>(null);
  const karst = useAppState((state) => state.karst.drawn);
  const compared = useAppState((state) => state.compared);
  const comparing = compared !== null;
  const [map, setMap] = useState<SurveyMap | null>(null);
  const [scale, setScale] = useState<ViewScale | null>(null);
  const [noMap, setNoMap] = useState<string | null>(null);

  const first = useRef({ theme, spacing });

  const drawing: Picture | null = useMemo(() => (drawn ? picture(drawn.layers, relief) : null), [drawn, relief]);
  const selected = useMemo(() => selectedSids(content, selection), [content, selection]);
  const places = useMemo(
    () => (layingOut ? layoutMarks(layout) : (karstMarks(karst, selection) ?? placesOf(content, selection))),
    [content, selection, layingOut, layout, karst],
  );
  const { line, stakesM, task } = layout;
  const laying = useMemo(
    () =>
      content && layingOut ? laidOut(content.survey, content.findings, { line, stakesM, task }) : NOTHING_LAID_OUT,
    [content, layingOut, line, stakesM, task],
  );
  useLineDrawing(map, content);

  useEffect(() => {
    const container = ground.current;
    if (!container) return;
    let made: SurveyMap | null = null;
    let gone = false;
    const scene: MapScene = {
      picture: null,
      look: { ...first.current, palette: readPalette(container) },
      selected: {},
      selectedPlaces: NO_PLACES,
      laidOut: NOTHING_LAID_OUT,
    };
    Promise.all([import('../../map/survey-map'), import('../../map/maplibre-engine')])
      .then(([{ createSurveyMap }, { createMapLibreEngine }]) => {
        if (gone) return;
        made = createSurveyMap({
          container,
          scene,
          covered: COVERED,
          createEngine: createMapLibreEngine,
          animate: () => !matchMedia('(prefers-reduced-motion: reduce)').matches,
          onTap: (target, place) => backdropChoice.tap(place) || tapped(parts, target, place),
          onMoved: (sid, place) => {
            void import('../move-on-map').then(({ moveOnMap }) => moveOnMap(parts, sid, place));
          },
          onScale: setScale,
          lastView: () => viewOf(drawnSurveyId(store.get())),
          onView: (view) => rememberView(drawnSurveyId(store.get()), view),
          onTrouble: (sentence) => store.dispatch({ type: 'trouble', sentence }),
          onRecovered: () => store.dispatch({ type: 'trouble', sentence: null }),
        });
        setMap(made);
        offerForInspection({ map: made.engine, store, commit: (change) => edit(parts, () => done(change)) });
      })
      .catch((error: unknown) => {
        if (gone) return;
        console.error(`map: ${error instanceof Error ? error.message : String(error)}`);
        setNoMap(
          'This browser cannot draw the map (it needs WebGL 2). Everything else works: the lists beside it tell the same.',
        );
      });
    return () => {
      gone = true;
      made?.destroy();
      setMap(null);
    };
  }, [parts, store]);

  useEffect(() => {
    if (!map || !ground.current) return;
    map.show({
      picture: drawing,
      look: { theme, palette: paletteOf(theme, ground.current), spacing, comparing },
      selected,
      selectedPlaces: places,
      laidOut: laying,
    });
  }, [map, drawing, theme, spacing, selected, places, laying, comparing]);

  // Another survey lies elsewhere, one without a place nowhere yet: drawn on the ground before it, a line would be lost
  // there. The same survey after an edit stays where it is looked at.
  const surveyId = drawn?.surveyId ?? null;
  const framedFor = useRef<string | null>(null);
  useEffect(() => {
    if (!map || !surveyId || !drawing) return;
    if (framedFor.current !== null && framedFor.current !== surveyId) map.frame(drawing.bounds ?? WHOLE_EARTH);
    framedFor.current = surveyId;
  }, [map, surveyId, drawing]);

  // A line whose page is opened, or that has just come to lie somewhere, is brought into sight.
  const track = content?.findings.lines.find(({ lineId }) => lineId === line)?.track;
  const placed = layingOut && track !== undefined;
  const path = useRef(track);
  useEffect(() => {
    path.current = track;
  }, [track]);
  useEffect(() => {
    if (!map || !line || !placed) return;
    const bounds = boundsOfPlaces(path.current ?? []);
    if (bounds) map.frame(bounds);
  }, [map, line, placed]);

  useEffect(() => {
    if (!map || !content || !selection) return;
    const place = placeOf(content, selection);
    if (place) map.reveal(place.lon, place.lat);
  }, [map, content, selection]);

  return (
    <main className="stage" aria-label="Map">
      <div className="sight">
        <div className="ground" ref={ground} />
        <MapHeader content={content} />
        <MapTools map={map} bounds={drawing?.bounds ?? null} />
        <MapKey theme={theme} scale={noMap ? null : scale} />
        {layingOut && map && (
          <Suspense fallback={null}>
            <PlaceReadout map={map} />
          </Suspense>
        )}
        {map && <BackdropOnMap map={map} />}
        {content && <HereOnMap map={map} content={content} />}
        {map && content && (content.survey.features.length > 0 || karstOpen) && (
          <Suspense fallback={null}>
            <KarstOnMap key={content.survey.id} map={map} survey={content.survey} />
          </Suspense>
        )}
        {map && compared && drawing && (
          <Suspense fallback={null}>
            <ComparisonOnMap map={map} picture={drawing} compared={compared} />
          </Suspense>
        )}
        {noMap && <p className="no-map">{noMap}</p>}
        <TroubleNote on="map" />
      </div>
      {content && <SpacingPicker content={content} />}
    </main>
  );
}
