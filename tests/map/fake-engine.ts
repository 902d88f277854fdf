import type { FeatureCollection } from 'geojson';
import type { MapOptions } from 'maplibre-gl';
import type { MapEngine, MapEvents } from '../../src/map/map-engine';

/** A stand-in for the map: it keeps what it was told, and a degree is a thousand pixels, north up, from (0, 0). */
export class FakeEngine implements MapEngine {
  readonly sources = new Map<string, FeatureCollection>();
  readonly told: string[] = [];
  readonly layout = new Map<string, unknown>();
  readonly states = new Map<string, Set<string>>();
  /** How often a state was set or taken away: each costs the real map a frame. */
  stateCalls = 0;
  readonly canvas = { style: { cursor: '' } };
  removed = false;
  zoom = 19;
  found: { properties: Record<string, unknown>; layer: { id: string } }[] = [];
  private readonly listeners = new Map<string, ((event: never) => void)[]>();

  constructor(readonly options: MapOptions) {}

  fire<K extends keyof MapEvents>(event: K, given: MapEvents[K]): void {
    for (const listener of this.listeners.get(event) ?? []) listener(given as never);
  }

  on<K extends keyof MapEvents>(event: K, listener: (event: MapEvents[K]) => void): void {
    this.listeners.set(event, [...(this.listeners.get(event) ?? []), listener as (event: never) => void]);
  }
  getSource(id: string): { setData(data: FeatureCollection): unknown } {
    return { setData: (data) => this.sources.set(id, data) };
  }
  setPaintProperty(layer: string, name: string): void {
    this.told.push(`paint ${layer} ${name}`);
  }
  setLayoutProperty(layer: string, name: string, value: unknown): void {
    this.told.push(`layout ${layer} ${name}`);
    this.layout.set(`${layer} ${name}`, value);
  }
  setFilter(layer: string): void {
    this.told.push(`filter ${layer}`);
  }
  setFeatureState({ source, id }: { source: string; id: string }): void {
    this.stateCalls += 1;
    this.states.set(source, (this.states.get(source) ?? new Set()).add(id));
  }
  removeFeatureState({ source }: { source: string }): void {
    this.stateCalls += 1;
    this.states.delete(source);
  }
  queryRenderedFeatures(): { properties: Record<string, unknown>; layer: { id: string } }[] {
    return this.found;
  }
  project([lon, lat]: [number, number]): { x: number; y: number } {
    return { x: lon * 1000, y: -lat * 1000 };
  }
  unproject([x, y]: [number, number]): { lng: number; lat: number } {
    return { lng: x / 1000, lat: -y / 1000 };
  }
  getZoom(): number {
    return this.zoom;
  }
  getContainer(): HTMLElement {
    return { clientWidth: 1000, clientHeight: 800 } as HTMLElement;
  }
  getCanvas(): HTMLCanvasElement {
    return this.canvas as HTMLCanvasElement;
  }
  fitBounds(bounds: [number, number, number, number], { maxZoom }: { maxZoom?: number }): void {
    this.told.push(`fit ${bounds.join(' ')} to ${maxZoom}`);
  }
  easeTo({ center, duration }: { center?: [number, number]; duration?: number }): void {
    this.told.push(`ease ${center?.join(' ')} in ${duration}`);
  }
  zoomTo(zoom: number): void {
    this.zoom = zoom;
  }
  remove(): void {
    this.removed = true;
  }
}
