import type { MapEngine } from './map-engine';

const SOURCES = ['midpoints', 'electrodes', 'zones'] as const;

/** Ids of the features that are selected, by source. */
export type Selected = Readonly<Partial<Record<(typeof SOURCES)[number], readonly string[]>>>;

/** Marks features as selected. */
export interface SelectionMarks {
  set(selected: Selected): void;
  /** What the map has marked is not known any more. */
  forget(): void;
}

/** A mark that is set again costs a frame of the whole map, even where it was there: only what differs is told. */
export function selectionMarks(engine: MapEngine): SelectionMarks {
  const marked = new Map<string, string>();
  return {
    set(selected) {
      for (const source of SOURCES) {
        const ids = selected[source] ?? [];
        const text = JSON.stringify(ids);
        if (marked.get(source) === text) continue;
        marked.set(source, text);
        engine.removeFeatureState({ source });
        for (const id of ids) engine.setFeatureState({ source, id }, { selected: true });
      }
    },
    forget: () => marked.clear(),
  };
}
