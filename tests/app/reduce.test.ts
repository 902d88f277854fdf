import { describe, expect, it } from 'vitest';
import { INITIAL_STATE } from '../../src/app/state/app-state';
import { type Action, reduce } from '../../src/app/state/reduce';
import { createStore } from '../../src/app/state/store';

const stateAfter = (...actions: Action[]) => actions.reduce(reduce, INITIAL_STATE);
const reading: Action = { type: 'select', selection: { kind: 'midpoint', sid: 'm1' } };

describe('the state of the page', () => {
  it('brings the Read margin up for a thing that was asked about', () => {
    const state = stateAfter({ type: 'margin', margin: 'hand_over' }, { type: 'sheet', sheet: 'closed' }, reading);
    expect(state).toMatchObject({ margin: 'read', sheet: 'half', selection: { sid: 'm1' } });
  });

  it('leaves a sheet at full height as it is', () => {
    expect(stateAfter({ type: 'sheet', sheet: 'full' }, reading).sheet).toBe('full');
  });

  it('puts a margin away when it is asked for again, and brings it back', () => {
    const away = stateAfter({ type: 'margin', margin: 'read' });
    expect(away.sheet).toBe('closed');
    expect(reduce(away, { type: 'margin', margin: 'read' }).sheet).toBe('half');
    expect(reduce(away, { type: 'margin', margin: 'hand_over' })).toMatchObject({ margin: 'hand_over', sheet: 'half' });
  });

  it('is the same object when nothing was selected and nothing is', () => {
    expect(reduce(INITIAL_STATE, { type: 'select', selection: null })).toBe(INITIAL_STATE);
  });

  it('keeps the selection when the spacing or the lie of the strokes changes', () => {
    const state = stateAfter(reading, { type: 'spacing', spacing: 2 }, { type: 'drape', drape: 'probes' });
    expect(state).toMatchObject({ selection: { sid: 'm1' }, spacing: 2, drape: 'probes' });
  });
});

describe('the store', () => {
  it('tells its listeners of a change, and of nothing else', () => {
    const store = createStore(INITIAL_STATE, reduce);
    let told = 0;
    const stop = store.subscribe(() => {
      told += 1;
    });
    store.dispatch({ type: 'select', selection: null });
    expect(told).toBe(0);
    store.dispatch({ type: 'spacing', spacing: 5 });
    expect([told, store.get().spacing]).toEqual([1, 5]);
    stop();
    store.dispatch({ type: 'spacing', spacing: 'all' });
    expect(told).toBe(1);
  });
});
