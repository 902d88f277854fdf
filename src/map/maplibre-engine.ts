import { type GeoJSONSource, Map as MapLibreMap, setWorkerUrl } from 'maplibre-gl';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';
import type { CreateMapEngine, MapEngine } from './map-engine';

/** MapLibre itself, with its worker from our own origin. */
export const createMapLibreEngine: CreateMapEngine = (options) => {
  setWorkerUrl(workerUrl);
  const map = new MapLibreMap(options);
  const engine: MapEngine = map as Omit<MapLibreMap, 'getSource'> & {
    getSource(id: string): GeoJSONSource | undefined;
  };
  return engine;
};
