import type { FeatureCollection } from 'geojson';
import type {
  FilterSpecification,
  MapOptions,
  PaddingOptions,
  PointLike,
  QueryRenderedFeaturesOptions,
} from 'maplibre-gl';

/** A tap, in pixels from the top left of the map. */
export interface MapTap {
  readonly point: { readonly x: number; readonly y: number };
  readonly originalEvent?: { readonly pointerType?: string } | Event;
}

/** A touch or a press that the map would take for the beginning of a pan. */
export interface MapPress extends MapTap {
  preventDefault(): void;
}

export interface MapEvents {
  load: unknown;
  move: unknown;
  moveend: unknown;
  resize: unknown;
  click: MapTap;
  mousemove: MapTap;
  mousedown: MapPress;
  mouseup: MapTap;
  touchstart: MapPress;
  touchmove: MapTap;
  touchend: MapTap;
  touchcancel: MapTap;
  error: { readonly error?: { readonly message?: string }; readonly sourceId?: string };
  'style.load': unknown;
  webglcontextlost: unknown;
}

/** The part of MapLibre's map that this program uses, so that a stand-in can take its place in tests without WebGL. */
export interface MapEngine {
  on<K extends keyof MapEvents>(event: K, listener: (event: MapEvents[K]) => void): unknown;
  getSource(id: string): { setData(data: FeatureCollection): unknown } | undefined;
  setPaintProperty(layer: string, name: string, value: unknown): unknown;
  setLayoutProperty(layer: string, name: string, value: unknown): unknown;
  setFilter(layer: string, filter: FilterSpecification | null): unknown;
  setFeatureState(feature: { source: string; id: string }, state: Record<string, unknown>): unknown;
  removeFeatureState(feature: { source: string }): unknown;
  /** Pictures of symbols; a stand-in has none. */
  hasImage?(id: string): boolean;
  addImage?(id: string, image: ImageData, options: { pixelRatio: number }): unknown;
  updateImage?(id: string, image: ImageData): unknown;
  queryRenderedFeatures(
    box: [PointLike, PointLike],
    options: QueryRenderedFeaturesOptions,
  ): { properties: Record<string, unknown>; layer: { id: string } }[];
  project(lonLat: [number, number]): { x: number; y: number };
  unproject(point: [number, number]): { lng: number; lat: number };
  getZoom(): number;
  getContainer(): HTMLElement;
  getCanvas(): HTMLCanvasElement;
  fitBounds(
    bounds: [number, number, number, number],
    options: { padding?: number | PaddingOptions; maxZoom?: number; animate?: boolean; duration?: number },
  ): unknown;
  easeTo(options: {
    center?: [number, number];
    zoom?: number;
    offset?: [number, number];
    animate?: boolean;
    duration?: number;
  }): unknown;
  zoomTo(zoom: number, options: { animate?: boolean; duration?: number }): unknown;
  remove(): void;
}

export type CreateMapEngine = (options: MapOptions) => MapEngine;
