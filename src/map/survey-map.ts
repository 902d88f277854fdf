import type { FeatureCollection } from 'geojson';
import { midpointSidOf } from '../exchange/write/layer-collection';
import { BACKDROP } from './backdrop';
import { dragHandles } from './drag-handles';
import { type BackdropEngine, backdropDrawing, type ShownBackdrop } from './draw-backdrop';
import { gridDrawing, type ViewScale } from './draw-grid';
import { drawnSources } from './drawn-sources';
import { KARST_SOURCES, type KarstDrawn } from './feature-layers';
import { drawFeatureSymbols } from './feature-symbols';
import { openCluster } from './feature-tap';
import { AT_ONCE, type Covered, EASED, goToBounds, goToPlace, goToView, type View, viewNow } from './go-to';
import { surfaceWatch } from './lost-surface';
import type { CreateMapEngine, MapEngine } from './map-engine';
import type { MapLook } from './map-look';
import { LAID_OUT_SOURCES, PICTURE_SOURCES } from './map-sources';
import { mapLayers, mapStyle } from './map-style';
import { type Bounds, EMPTY_COLLECTION, type Picture } from './picture';
import { repaint } from './restyle';
import { type MapPlace, metresPerPixelAt, middleOf, placeAt } from './screen-ground';
import { type Selected, selectionMarks } from './selection-marks';
import { TAP_REACH_PX } from './tap-target';
import { foundNear, type MapTarget, targetAt } from './target-at';
import { placesWatch, type WatchPlaces } from './watch-places';

export type { ViewScale } from './draw-grid';
export type { View } from './go-to';
export type { MapPlace } from './screen-ground';
export type { MapTarget } from './target-at';
export type { MapPlaces } from './watch-places';

/** What is drawn while a line is laid out. */
export interface LaidOut {
  readonly ellipses: FeatureCollection;
  /** Ticks (lines) and their labels (points). */
  readonly stakes: FeatureCollection;
  /** Points that can be moved, by their `sid`. */
  readonly handles: FeatureCollection;
}

export interface MapScene {
  readonly picture: Picture | null;
  readonly look: MapLook;
  /** `sid`s that stand out; a midpoint with its strokes. */
  readonly selected: Selected;
  readonly selectedPlaces: FeatureCollection;
  readonly laidOut: LaidOut;
}

export interface SurveyMapOptions {
  readonly container: HTMLElement;
  readonly scene: MapScene;
  readonly covered: Covered;
  readonly createEngine: CreateMapEngine;
  readonly animate: () => boolean;
  readonly onTap: (target: MapTarget | null, place: MapPlace) => void;
  /** A handle was let go somewhere else. */
  readonly onMoved: (sid: string, place: MapPlace) => void;
  readonly onScale: (scale: ViewScale) => void;
  /** Where the survey was looked at last, if anybody did. */
  readonly lastView: () => View | null;
  readonly onView: (view: View) => void;
  readonly onTrouble: (sentence: string) => void;
  readonly onRecovered: () => void;
}

/** The one wrapper of the map: it is told what to show, and tells what was tapped. */
export interface SurveyMap {
  show(scene: MapScene): void;
  cover(covered: Covered): void;
  /** Brings bounds into the part of the map that nothing covers. */
  frame(bounds: Bounds): void;
  /** Makes sure that a place can be seen. */
  reveal(lon: number, lat: number): void;
  /** Where the device is and what is walked to, as features of the source `here`. */
  showHere(drawn: FeatureCollection): void;
  /** Strokes as they changed since an earlier survey; none = no comparison is open. */
  showChanges(drawn: FeatureCollection): void;
  /** What lies under the survey; null = paper and grid alone. `onTrouble` is told when a piece of it does not come. */
  showBackdrop(shown: ShownBackdrop | null, onTrouble?: (message: string) => void): void;
  /** The karst inventory with what was measured of it. */
  showKarst(drawn: KarstDrawn): void;
  zoomBy(steps: number): void;
  /** At the middle of the map. */
  metresPerPixel(): number;
  readonly watchPlaces: WatchPlaces;
  destroy(): void;
  readonly engine: MapEngine;
}

export function createSurveyMap(options: SurveyMapOptions): SurveyMap {
  let { scene, covered } = options;
  let layers = mapLayers(scene.look);
  let drawn: MapScene | null = null;
  let whereIAm = EMPTY_COLLECTION;
  let changes = EMPTY_COLLECTION;
  let karst: KarstDrawn | null = null;
  let backdrop: ShownBackdrop | null = null;
  let onBackdropTrouble: ((message: string) => void) | undefined;
  let ready = false;
  let framed = false;

  const engine = options.createEngine({
    container: options.container,
    style: mapStyle(scene.look),
    center: [0, 0],
    zoom: 1,
    maxZoom: 23.5,
    maxPitch: 0,
    dragRotate: false,
    pitchWithRotate: false,
    touchPitch: false,
    attributionControl: false,
    fadeDuration: 0,
    renderWorldCopies: false,
  });
  const motion = () => (options.animate() ? EASED : AT_ONCE);

  const isLost = surfaceWatch(engine, {
    onLost() {
      ready = false;
      options.onTrouble(
        'The device took the drawing surface away. The readings are safe; reload the page if the map stays empty.',
      );
    },
    onBack() {
      drawn = null;
      sources.forget();
      marks.forget();
      begin();
      grid.draw();
      options.onRecovered();
    },
  });
  const sources = drawnSources(engine, layers, () => !isLost());
  const marks = selectionMarks(engine);
  const grid = gridDrawing(engine, sources.set, options.onScale);
  const drawBackdrop = backdropDrawing(engine as unknown as BackdropEngine);

  function begin(): void {
    ready = true;
    apply();
    if (backdrop) drawBackdrop(backdrop, scene.look.palette);
    sources.set('here', whereIAm);
    sources.set('changes', changes);
    applyKarst();
  }

  function apply(): void {
    if (!ready) return;
    const before = drawn;
    drawn = scene;
    const isNewPicture = before?.picture !== scene.picture;
    if (before?.look !== scene.look) applyLook(scene.look);
    if (isNewPicture) applyPicture(scene.picture);
    if (isNewPicture || before?.selected !== scene.selected || before?.selectedPlaces !== scene.selectedPlaces) {
      applySelection();
    }
    for (const name of LAID_OUT_SOURCES) {
      if (before?.laidOut[name] !== scene.laidOut[name]) sources.set(name, scene.laidOut[name]);
    }
  }

  function applyLook(look: MapLook): void {
    const next = mapLayers(look);
    repaint(engine, layers, next);
    layers = next;
    if (backdrop) drawBackdrop(backdrop, look.palette);
    if (karst) drawFeatureSymbols(engine, look.palette);
  }

  function applyPicture(picture: Picture | null): void {
    if (picture?.bounds && !framed) {
      // Before there is anything to draw, so that no tiles are cut for a view that nobody asked for.
      framed = true;
      const view = options.lastView();
      if (view) goToView(engine, view);
      else goToBounds(engine, picture.bounds, covered, AT_ONCE);
    }
    for (const name of PICTURE_SOURCES) sources.setWhenSeen(name, picture?.[name] ?? EMPTY_COLLECTION);
    grid.countFrom(picture?.line_starts ?? EMPTY_COLLECTION);
  }

  function applySelection(): void {
    marks.set(scene.selected);
    // Drawn once more by itself: a state that any stroke may have would cost every stroke a layer.
    sources.set('selected_segments', strokesOf(scene.picture?.segments, scene.selected.midpoints ?? []));
    sources.set('selected_places', scene.selectedPlaces);
  }

  function applyKarst(): void {
    if (karst) drawFeatureSymbols(engine, scene.look.palette);
    for (const name of KARST_SOURCES) sources.set(name, karst?.[name] ?? EMPTY_COLLECTION);
  }

  engine.on('load', begin);
  engine.on('moveend', () => {
    grid.draw();
    if (framed) options.onView(viewNow(engine));
  });
  engine.on('resize', grid.draw);
  dragHandles({
    engine,
    handles: () => scene.laidOut.handles,
    draw: (handles) => sources.set('handles', handles),
    onMoved: (sid, point) => options.onMoved(sid, placeAt(engine, point)),
  });
  engine.on('click', ({ point }) => {
    if (ready && openCluster(engine, point, foundNear(engine, point, TAP_REACH_PX[0]), motion())) return;
    const { picture, look } = scene;
    options.onTap(ready && picture ? targetAt(engine, picture, look, point) : null, placeAt(engine, point));
  });
  engine.on('mousemove', ({ point }) => {
    const found = ready ? foundNear(engine, point, TAP_REACH_PX[0]) : [];
    engine.getCanvas().style.cursor = found.length > 0 ? 'pointer' : '';
  });
  engine.on('error', ({ error, sourceId }) => {
    const message = error?.message ?? 'no reason given';
    if (sourceId === BACKDROP && onBackdropTrouble) return onBackdropTrouble(message);
    console.error(`map: ${message}`);
    options.onTrouble(`The map could not draw something: ${message}`);
  });

  return {
    engine,
    show(next) {
      scene = next;
      apply();
    },
    cover(next) {
      covered = next;
      if (ready) grid.draw();
    },
    frame: (bounds) => goToBounds(engine, bounds, covered, motion()),
    reveal: (lon, lat) => goToPlace(engine, lon, lat, covered, motion()),
    showKarst(next) {
      karst = next;
      if (ready) applyKarst();
    },
    showBackdrop(next, onTrouble) {
      backdrop = next;
      onBackdropTrouble = onTrouble;
      if (ready) drawBackdrop(next, scene.look.palette);
    },
    showChanges(next) {
      changes = next;
      if (ready) sources.set('changes', next);
    },
    showHere(next) {
      whereIAm = next;
      if (ready) sources.set('here', next);
    },
    zoomBy(steps) {
      engine.zoomTo(engine.getZoom() + steps, motion());
    },
    metresPerPixel: () => metresPerPixelAt(engine, middleOf(engine)),
    watchPlaces: placesWatch(engine),
    destroy() {
      ready = false;
      engine.remove();
    },
  };
}

function strokesOf(segments: FeatureCollection | undefined, midpointSids: readonly string[]): FeatureCollection {
  if (!segments || midpointSids.length === 0) return EMPTY_COLLECTION;
  const wanted = new Set(midpointSids);
  return {
    type: 'FeatureCollection',
    features: segments.features.filter(({ properties }) => wanted.has(midpointSidOf(String(properties?.sid)))),
  };
}
