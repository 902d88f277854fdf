import { describe, expect, it } from 'vitest';
import { INITIAL_STATE } from '../../src/app/state/app-state';
import { layoutMarks } from '../../src/app/state/layout-marks';
import { coordinateFormOf, NO_LAYOUT } from '../../src/app/state/layout-state';
import { type Action, reduce } from '../../src/app/state/reduce';
import { makeId } from '../../src/survey/ids';

const stateAfter = (...actions: Action[]) => actions.reduce(reduce, { ...INITIAL_STATE, margin: 'lay_out' as const });
const line = makeId('line', 'x', 'A');
const here = { lon: 10, lat: 47, metresPerPixel: 0.1 };

describe('what is laid out', () => {
  it('makes room for the map when something is asked of it', () => {
    const full: Action = { type: 'sheet', sheet: 'full' };
    expect(stateAfter(full, { type: 'layout', layout: { task: 'draw' } }).sheet).toBe('half');
    expect(stateAfter(full, { type: 'layout', layout: { line } }).sheet).toBe('full');
  });

  it('forgets what the map was asked for in another margin, and keeps the open line and one that is half drawn', () => {
    const sketch = { vertices: [], pointer: null, finished: false };
    const asked: Action = { type: 'layout', layout: { line, task: 'place', placed: here, sketch } };
    const state = stateAfter(asked, { type: 'margin', margin: 'read' });
    expect(state.layout).toMatchObject({ line, task: null, placed: null, sketch });
  });

  it('marks the place that was pointed at, and a drawn line once it is not drawn any more', () => {
    const vertex = (lon: number) => ({ ...here, lon, snappedTo: null });
    const sketch = { vertices: [vertex(10), vertex(10.1), vertex(10.2)], pointer: null, finished: true };
    expect(layoutMarks({ ...NO_LAYOUT, sketch, task: 'draw' }).features).toEqual([]);
    const kinds = layoutMarks({ ...NO_LAYOUT, sketch, placed: here }).features.map(({ geometry }) => geometry.type);
    expect(kinds).toEqual(['Point', 'Point', 'Point', 'LineString', 'Point']);
  });

  it('reads the form of coordinates that the device remembers, and takes degrees for anything else', () => {
    expect(coordinateFormOf('mgrs')).toBe('mgrs');
    expect(coordinateFormOf('EPSG:25832')).toBe('EPSG:25832');
    for (const text of [null, '', 'EPSG:x', 'constructor']) expect(coordinateFormOf(text)).toBe('decimal_degrees');
  });
});
