import { describe, expect, it } from 'vitest';
import type { MapLook } from '../../src/map/map-look';
import { mapLayers } from '../../src/map/map-style';
import { restyle } from '../../src/map/restyle';
import { look } from './look';

const changes = (before: MapLook, after: MapLook) => restyle(mapLayers(before), mapLayers(after));

describe('a change of look', () => {
  it('is nothing when nothing changed', () => {
    expect(changes(look, { ...look, palette: { ...look.palette } })).toEqual([]);
  });

  it('of the theme only repaints', () => {
    const made = changes(look, { ...look, theme: 'dark' });
    expect(made.length).toBeGreaterThan(0);
    expect(made.every(({ kind }) => kind === 'paint')).toBe(true);
    expect(made.some((change) => change.kind === 'paint' && change.name === 'line-color')).toBe(true);
  });

  it('of the spacing filters the strokes and midpoints and lays them on their line', () => {
    const made = changes(look, { ...look, spacing: 2 });
    const filtered = made.filter(({ kind }) => kind === 'filter').map(({ layer }) => layer);
    expect(filtered).toEqual(
      expect.arrayContaining(['segments', 'segment_casings', 'segment_hollows', 'segments_unmeasured', 'midpoints']),
    );
    expect(made).toContainEqual({ kind: 'paint', layer: 'segments', name: 'line-offset', value: 0 });
  });

  it('adds and takes away filters', () => {
    const plain = { id: 'x', type: 'line', source: 's' } as const;
    const filtered = { ...plain, filter: ['==', ['get', 'a'], 1] } as typeof plain & {
      filter: ['==', ['get', 'a'], 1];
    };
    expect(restyle([plain], [filtered])).toEqual([{ kind: 'filter', layer: 'x', filter: ['==', ['get', 'a'], 1] }]);
    expect(restyle([filtered], [plain])).toEqual([{ kind: 'filter', layer: 'x', filter: null }]);
  });
});
