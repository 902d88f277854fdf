import type { FeatureCollection } from 'geojson';
import { midpointSidOf } from '../exchange/write/layer-collection';
import { BACKDROP } from './backdrop';
import { dragHandles } from './drag-handles';
import { type BackdropEngine, backdropDrawing, type ShownBackdrop } from './draw-backdrop';
import { KARST_SOURCES, type KarstDrawn } from './feature-layers';
import { drawFeatureSymbols } from './feature-symbols';
import { featureAt, openCluster } from './feature-tap';
import { laneOffsetPx } from './lane-offset';
import { type LocalPlane, localPlane } from './local-plane';
import type { CreateMapEngine, MapEngine, MapTap } from './map-engine';
import {
  layersBySource,
  type MapLook,
  mapLayers,
  mapStyle,
  SOURCE_NAMES,
  type SourceName,
  seenFromZoom,
  TAP_LAYERS,
} from './map-style';
import { metreGrid } from './metre-grid';
import { type Bounds, EMPTY_COLLECTION, type Picture } from './picture';
import { restyle } from './restyle';
import { nearestSid, TAP_REACH_PX } from './tap-target';

/** Something on the map that a person may ask about. */
export interface MapTarget {
  readonly kind: 'midpoint' | 'electrode' | 'zone' | 'next' | 'feature';
  /** The `sid` of the feature in the layer that was tapped. */
  readonly sid: string;
  readonly source: 'segments' | 'midpoints' | 'electrodes' | 'zones' | 'next_readings' | 'feature_points';
}

/** What is drawn while a line is laid out. */
export interface LaidOut {
  readonly ellipses: FeatureCollection;
  /** Ticks (lines) and their labels (points). */
  readonly stakes: FeatureCollection;
  /** Points that can be moved, by their `sid`. */
  readonly handles: FeatureCollection;
}

/** A place on the map, and how wide a pixel is there. */
export interface MapPlace {
  readonly lon: number;
  readonly lat: number;
  readonly metresPerPixel: number;
}

/** Where the pointer is, and the middle of the map, which a touch screen has instead. */
export interface MapPlaces {
  readonly pointer: MapPlace | null;
  readonly middle: MapPlace;
}

export interface MapScene {
  readonly picture: Picture | null;
  readonly look: MapLook;
  /** `sid`s that stand out; a midpoint with its strokes. */
  readonly selected: Readonly<Partial<Record<'midpoints' | 'electrodes' | 'zones', readonly string[]>>>;
  readonly selectedPlaces: FeatureCollection;
  readonly laidOut: LaidOut;
}

export interface ViewScale {
  readonly metresPerPixel: number;
  /** Distance between grid lines; null when there are none. */
  readonly gridStepM: number | null;
}

/** Pixels at each edge of the map that something else covers. */
export interface Covered {
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly left: number;
}

/** The middle of the map in degrees, and its zoom. */
export interface View {
  readonly lon: number;
  readonly lat: number;
  readonly zoom: number;
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
  /** Tells where pointer and middle are, now and whenever they move; gives what ends it. */
  watchPlaces(listener: (places: MapPlaces) => void): () => void;
  destroy(): void;
  readonly engine: MapEngine;
}

/** Nearer than this a line of a metre would fill the screen. */
const CLOSEST_FRAME_ZOOM = 20;
const FRAME_MARGIN_PX = 36;
/** Farther out than this the strokes of a place run into each other. */
const REVEAL_ZOOM = 19;
const EASE_MS = 250;

/** How much before a source is first seen the map gets it. */
const ZOOMS_AHEAD = 1;
const LAID_OUT = ['ellipses', 'stakes', 'handles'] as const;
const UNPICTURED = [
  'grid',
  'grid_labels',
  'selected_segments',
  'selected_places',
  'here',
  'changes',
  ...LAID_OUT,
  ...KARST_SOURCES,
] as const;
type Unpictured = (typeof UNPICTURED)[number];
const PICTURE_NAMES = SOURCE_NAMES.filter(
  (name): name is Exclude<SourceName, Unpictured> => !UNPICTURED.includes(name as Unpictured),
);

function strokesOf(segments: FeatureCollection | undefined, midpointSids: readonly string[]): FeatureCollection {
  if (!segments || midpointSids.length === 0) return EMPTY_COLLECTION;
  const wanted = new Set(midpointSids);
  return {
    type: 'FeatureCollection',
    features: segments.features.filter(({ properties }) => wanted.has(midpointSidOf(String(properties?.sid)))),
  };
}

/** The same features in the same order. Those of a line that an edit touched come anew, most of them as they were. */
function isSameDrawing(p: FeatureCollection, q: FeatureCollection): boolean {
  return (
    p.features.length === q.features.length &&
    p.features.every((feature, i) => feature === q.features[i] || isEqual(feature, q.features[i]))
  );
}

const isEqual = (p: unknown, q: unknown): boolean => JSON.stringify(p) === JSON.stringify(q);

export function createSurveyMap(options: SurveyMapOptions): SurveyMap {
  let scene = options.scene;
  let covered = options.covered;
  let layers = mapLayers(scene.look);
  const seenFrom = seenFromZoom(layers);
  const layersOf = layersBySource(layers);
  let drawn: MapScene | null = null;
  let whereIAm = EMPTY_COLLECTION;
  let changes = EMPTY_COLLECTION;
  let karst: KarstDrawn | null = null;
  let backdrop: ShownBackdrop | null = null;
  let onBackdropTrouble: ((message: string) => void) | undefined;
  let plane: LocalPlane | null = null;
  /** Where the metre grid counts from: the first place of the first line. */
  let gridOrigin: string | null | undefined;
  let ready = false;
  /** The drawing surface is taken away, and the style with it. */
  let lost = false;
  let framed = false;
  const onMap = new Map<SourceName, FeatureCollection>();
  const waiting = new Map<SourceName, FeatureCollection>();

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

  const drawBackdrop = backdropDrawing(engine as unknown as BackdropEngine);

  const motion = () => ({ animate: options.animate(), duration: options.animate() ? EASE_MS : 0 });

  /** Tiles are cut and a frame drawn anew for a source that is set: what did not change is left alone. */
  function setSource(name: SourceName, data: FeatureCollection): void {
    if (lost) return;
    const before = onMap.get(name);
    if (before && isSameDrawing(before, data)) return;
    onMap.set(name, data);
    engine.getSource(name)?.setData(data);
    const isEmpty = data.features.length === 0;
    if (before ? (before.features.length === 0) === isEmpty : !isEmpty) return;
    // A layer costs a pass over the whole screen even where it has nothing to draw.
    for (const layer of layersOf.get(name) ?? []) {
      engine.setLayoutProperty(layer, 'visibility', isEmpty ? 'none' : 'visible');
    }
  }

  function applyPicture(picture: Picture | null): void {
    if (picture?.bounds && !framed) {
      // Before there is anything to draw, so that no tiles are cut for a view that nobody asked for.
      framed = true;
      const view = options.lastView();
      if (view) engine.easeTo({ center: [view.lon, view.lat], zoom: view.zoom, animate: false, duration: 0 });
      else frame(picture.bounds, false);
    }
    for (const name of PICTURE_NAMES) {
      const next = picture?.[name] ?? EMPTY_COLLECTION;
      waiting.set(name, next);
    }
    fetchWaiting();
    const start = picture?.line_starts.features[0]?.geometry;
    const [lon = 0, lat = 0] = start?.type === 'Point' ? start.coordinates : [];
    const origin = start ? `${lon} ${lat}` : null;
    if (origin === gridOrigin) return;
    gridOrigin = origin;
    plane = origin === null ? null : localPlane(lon, lat);
    drawGrid();
  }

  /** Hands the map what it can show at this zoom; what is only seen from nearer waits until somebody comes near. */
  function fetchWaiting(): void {
    const zoom = engine.getZoom();
    for (const [name, data] of waiting) {
      if (data.features.length > 0 && zoom < (seenFrom.get(name) ?? 0) - ZOOMS_AHEAD) continue;
      waiting.delete(name);
      setSource(name, data);
    }
  }

  function applyLook(look: MapLook): void {
    const next = mapLayers(look);
    for (const change of restyle(layers, next)) {
      if (change.kind === 'filter') engine.setFilter(change.layer, change.filter);
      else if (change.kind === 'paint') engine.setPaintProperty(change.layer, change.name, change.value);
      else engine.setLayoutProperty(change.layer, change.name, change.value);
    }
    layers = next;
    if (backdrop) drawBackdrop(backdrop, look.palette);
    if (karst) drawFeatureSymbols(engine, look.palette);
  }

  function applyKarst(): void {
    if (karst) drawFeatureSymbols(engine, scene.look.palette);
    for (const name of KARST_SOURCES) setSource(name, karst?.[name] ?? EMPTY_COLLECTION);
  }

  function applySelection(): void {
    for (const source of ['midpoints', 'electrodes', 'zones'] as const) {
      engine.removeFeatureState({ source });
      for (const id of scene.selected[source] ?? []) engine.setFeatureState({ source, id }, { selected: true });
    }
    // Drawn once more by itself: a state that any stroke may have would cost every stroke a layer.
    setSource('selected_segments', strokesOf(scene.picture?.segments, scene.selected.midpoints ?? []));
    setSource('selected_places', scene.selectedPlaces);
  }

  function apply(): void {
    if (!ready) return;
    const before = drawn;
    drawn = scene;
    if (before?.look !== scene.look) applyLook(scene.look);
    if (before?.picture !== scene.picture) applyPicture(scene.picture);
    if (
      before?.selected !== scene.selected ||
      before?.selectedPlaces !== scene.selectedPlaces ||
      before?.picture !== scene.picture
    ) {
      applySelection();
    }
    if (before?.laidOut !== scene.laidOut) {
      for (const name of LAID_OUT) {
        if (before?.laidOut[name] !== scene.laidOut[name]) setSource(name, scene.laidOut[name]);
      }
    }
  }

  function size(): { width: number; height: number } {
    const { clientWidth, clientHeight } = engine.getContainer();
    return { width: clientWidth, height: clientHeight };
  }

  function metresPerPixelAt(x: number, y: number): number {
    const left = engine.unproject([x - 50, y]);
    const right = engine.unproject([x + 50, y]);
    const here = localPlane((left.lng + right.lng) / 2, left.lat);
    return (here.toPlane(right.lng, right.lat).eastM - here.toPlane(left.lng, left.lat).eastM) / 100;
  }

  function placeAt({ x, y }: MapTap['point']): MapPlace {
    const { lng, lat } = engine.unproject([x, y]);
    return { lon: lng, lat, metresPerPixel: metresPerPixelAt(x, y) };
  }

  function drawGrid(): void {
    const { width, height } = size();
    if (width === 0 || height === 0) return;
    const metresPerPixel = metresPerPixelAt(width / 2, height / 2);

    const topLeft = engine.unproject([0, 0]);
    const topRight = engine.unproject([width, 0]);
    const bottomLeft = engine.unproject([0, height]);
    const grid = plane
      ? metreGrid(plane, {
          west: topLeft.lng,
          north: topLeft.lat,
          south: bottomLeft.lat,
          east: topRight.lng,
          metresPerPixel,
        })
      : null;
    setSource('grid', grid?.lines ?? EMPTY_COLLECTION);
    setSource('grid_labels', grid?.labels ?? EMPTY_COLLECTION);
    options.onScale({ metresPerPixel, gridStepM: grid?.stepM ?? null });
  }

  function frame(bounds: Bounds, animate: boolean): void {
    // On a short screen, or a page that is enlarged, the edges give way before the ground does.
    const { width, height } = size();
    const edge = FRAME_MARGIN_PX;
    const across = Math.min(1, width / (2 * (covered.left + covered.right + 2 * edge)));
    const down = Math.min(1, height / (2 * (covered.top + covered.bottom + 2 * edge)));
    const padding = {
      top: down * (covered.top + edge),
      right: across * (covered.right + edge),
      bottom: down * (covered.bottom + edge),
      left: across * (covered.left + edge),
    };
    engine.fitBounds([...bounds], {
      padding,
      maxZoom: CLOSEST_FRAME_ZOOM,
      ...(animate ? motion() : { animate: false }),
    });
  }

  function query({ x, y }: MapTap['point'], reach: number) {
    return engine.queryRenderedFeatures(
      [
        [x - reach, y - reach],
        [x + reach, y + reach],
      ],
      { layers: [...TAP_LAYERS] },
    );
  }

  /** Moves as little as needed, so that a place is in the open part of the map and near enough to be made out. */
  function reveal(lon: number, lat: number): void {
    const { width, height } = size();
    const { x, y } = engine.project([lon, lat]);
    const near = engine.getZoom() >= REVEAL_ZOOM;
    const open =
      x > covered.left + FRAME_MARGIN_PX &&
      x < width - covered.right - FRAME_MARGIN_PX &&
      y > covered.top + FRAME_MARGIN_PX &&
      y < height - covered.bottom - FRAME_MARGIN_PX;
    if (near && open) return;
    engine.easeTo({
      center: [lon, lat],
      zoom: Math.max(engine.getZoom(), REVEAL_ZOOM),
      offset: [(covered.left - covered.right) / 2, (covered.top - covered.bottom) / 2],
      ...motion(),
    });
  }

  function viewNow(): View {
    const { width, height } = size();
    const { lng, lat } = engine.unproject([width / 2, height / 2]);
    return { lon: lng, lat, zoom: engine.getZoom() };
  }

  function targetAt({ x, y }: MapTap['point']): MapTarget | null {
    const { picture, look } = scene;
    if (!ready || !picture) return null;
    // A stake lies on top, and is as large as a fingertip.
    const stake = query({ x, y }, 0).find(({ layer }) => layer.id === 'next_readings');
    if (stake) return { kind: 'next', sid: String(stake.properties.sid), source: 'next_readings' };
    const symbol = karst && featureAt(query({ x, y }, TAP_REACH_PX[0]), ['feature_symbols']);
    if (symbol) return { kind: 'feature', sid: symbol, source: 'feature_points' };
    for (const reach of TAP_REACH_PX) {
      const found = query({ x, y }, reach);
      for (const source of ['electrodes', 'midpoints', 'segments'] as const) {
        const sids = new Set(
          found
            .filter(({ layer }) => layer.id === source || (source === 'segments' && layer.id === 'segments_unmeasured'))
            .map(({ properties }) => String(properties.sid)),
        );
        if (sids.size === 0) continue;
        const sid = nearestSid(
          { x, y },
          sids,
          picture[source],
          ([lon, lat]) => engine.project([lon ?? 0, lat ?? 0]),
          ({ lane }) =>
            source === 'segments' && look.spacing === 'all' && typeof lane === 'number'
              ? laneOffsetPx(look.theme, engine.getZoom(), lane)
              : 0,
        );
        if (sid) return { kind: source === 'electrodes' ? 'electrode' : 'midpoint', sid, source };
      }
    }
    const outline = karst && featureAt(query({ x, y }, TAP_REACH_PX[0]), ['feature_lines', 'feature_areas']);
    if (outline) return { kind: 'feature', sid: outline, source: 'feature_points' };
    // A zone is what lies under everything else.
    const zone = query({ x, y }, 0).find(({ layer }) => layer.id === 'zones');
    return zone ? { kind: 'zone', sid: String(zone.properties.sid), source: 'zones' } : null;
  }

  engine.on('load', begin);
  function begin(): void {
    ready = true;
    apply();
    if (backdrop) drawBackdrop(backdrop, scene.look.palette);
    setSource('here', whereIAm);
    setSource('changes', changes);
    applyKarst();
  }
  engine.on('move', () => {
    if (ready && waiting.size > 0) fetchWaiting();
  });
  engine.on('moveend', () => {
    drawGrid();
    if (framed) options.onView(viewNow());
  });
  engine.on('resize', drawGrid);
  const watchers = new Set<(places: MapPlaces) => void>();
  let pointer: MapTap['point'] | null = null;
  function placesNow(): MapPlaces {
    const { width, height } = size();
    return { pointer: pointer && placeAt(pointer), middle: placeAt({ x: width / 2, y: height / 2 }) };
  }
  function tellPlaces(): void {
    if (watchers.size === 0) return;
    const places = placesNow();
    for (const watcher of watchers) watcher(places);
  }

  dragHandles({
    engine,
    handles: () => scene.laidOut.handles,
    draw: (handles) => setSource('handles', handles),
    onMoved: (sid, point) => options.onMoved(sid, placeAt(point)),
  });
  engine.on('move', tellPlaces);
  engine.on('click', (tap) => {
    if (karst && ready && openCluster(engine, tap.point, query(tap.point, TAP_REACH_PX[0]), motion())) return;
    options.onTap(targetAt(tap.point), placeAt(tap.point));
  });
  engine.on('mousemove', ({ point }) => {
    pointer = point;
    tellPlaces();
    const found = ready ? query(point, TAP_REACH_PX[0]) : [];
    engine.getCanvas().style.cursor = found.length > 0 ? 'pointer' : '';
  });
  engine.on('error', ({ error, sourceId }) => {
    const message = error?.message ?? 'no reason given';
    if (sourceId === BACKDROP && onBackdropTrouble) return onBackdropTrouble(message);
    console.error(`map: ${message}`);
    options.onTrouble(`The map could not draw something: ${message}`);
  });
  engine.on('webglcontextlost', () => {
    [ready, lost] = [false, true];
    options.onTrouble(
      'The device took the drawing surface away. The readings are safe; reload the page if the map stays empty.',
    );
  });
  // The surface comes back before the style is there again, as it was; what has changed meanwhile is put into that.
  engine.on('style.load', () => {
    if (!lost) return;
    lost = false;
    drawn = null;
    onMap.clear();
    begin();
    drawGrid();
    options.onRecovered();
  });

  return {
    engine,
    show(next) {
      scene = next;
      apply();
    },
    cover(next) {
      covered = next;
      if (ready) drawGrid();
    },
    frame: (bounds) => frame(bounds, true),
    reveal,
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
      if (ready) setSource('changes', next);
    },
    showHere(next) {
      whereIAm = next;
      if (ready) setSource('here', next);
    },
    zoomBy(steps) {
      engine.zoomTo(engine.getZoom() + steps, motion());
    },
    metresPerPixel() {
      const { width, height } = size();
      return metresPerPixelAt(width / 2, height / 2);
    },
    watchPlaces(listener) {
      watchers.add(listener);
      listener(placesNow());
      return () => watchers.delete(listener);
    },
    destroy() {
      ready = false;
      watchers.clear();
      engine.remove();
    },
  };
}
