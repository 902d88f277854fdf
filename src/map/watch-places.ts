import type { MapEngine, MapTap } from './map-engine';
import { type MapPlace, middleOf, placeAt } from './screen-ground';

/** Where the pointer is, and the middle of the map, which a touch screen has instead. */
export interface MapPlaces {
  readonly pointer: MapPlace | null;
  readonly middle: MapPlace;
}

/** Tells a listener where pointer and middle are, now and whenever they move; gives what ends it. */
export type WatchPlaces = (listener: (places: MapPlaces) => void) => () => void;

export function placesWatch(engine: MapEngine): WatchPlaces {
  const watchers = new Set<(places: MapPlaces) => void>();
  let pointer: MapTap['point'] | null = null;
  const placesNow = (): MapPlaces => ({
    pointer: pointer && placeAt(engine, pointer),
    middle: placeAt(engine, middleOf(engine)),
  });
  const tell = (): void => {
    if (watchers.size === 0) return;
    const places = placesNow();
    for (const watcher of watchers) watcher(places);
  };
  engine.on('move', tell);
  engine.on('mousemove', ({ point }) => {
    pointer = point;
    tell();
  });
  return (listener) => {
    watchers.add(listener);
    listener(placesNow());
    return () => watchers.delete(listener);
  };
}
