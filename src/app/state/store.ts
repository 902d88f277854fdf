/** A store of plain data: one value, changed only by actions, told to whoever listens. */
export interface Store<S, A> {
  get(): S;
  dispatch(action: A): void;
  subscribe(listener: () => void): () => void;
}

export function createStore<S, A>(initial: S, reduce: (state: S, action: A) => S): Store<S, A> {
  let state = initial;
  const listeners = new Set<() => void>();
  return {
    get: () => state,
    dispatch(action) {
      const next = reduce(state, action);
      if (next === state) return;
      state = next;
      for (const listener of [...listeners]) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
