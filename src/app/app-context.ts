import { createContext, useContext, useSyncExternalStore } from 'react';
import type { SurveyStore } from '../store/survey-store';
import type { FindingsClient } from '../workers/findings-client';
import type { Keeper } from './keeper';
import type { AppState } from './state/app-state';
import type { Action } from './state/reduce';
import type { Store } from './state/store';

export interface AppParts {
  readonly store: Store<AppState, Action>;
  readonly client: FindingsClient;
  readonly device: SurveyStore;
  readonly keep: Keeper;
}

export const AppContext = createContext<AppParts | null>(null);

export function useApp(): AppParts {
  const parts = useContext(AppContext);
  if (!parts) throw new Error('Screens belong inside the app.');
  return parts;
}

/** A part of the state; `select` must give the same value for the same state. */
export function useAppState<T>(select: (state: AppState) => T): T {
  const { store } = useApp();
  return useSyncExternalStore(store.subscribe, () => select(store.get()));
}
