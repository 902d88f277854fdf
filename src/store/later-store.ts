import type { SurveyStore } from './survey-store';

/**
 * A store that is loaded when it is first asked for anything, so that a page can begin without it. One that could not be
 * loaded is tried again at the next asking.
 */
export function laterStore(load: () => Promise<SurveyStore>): SurveyStore {
  let loading: Promise<SurveyStore> | null = null;
  const store = (): Promise<SurveyStore> => {
    loading ??= load().catch((error: unknown) => {
      loading = null;
      throw error;
    });
    return loading;
  };
  return {
    keep: async (...given) => (await store()).keep(...given),
    append: async (...given) => (await store()).append(...given),
    lastOpen: async () => (await store()).lastOpen(),
    closeLast: async () => (await store()).closeLast(),
    list: async () => (await store()).list(),
    reopen: async (...given) => (await store()).reopen(...given),
    read: async (...given) => (await store()).read(...given),
    changesAfter: async (...given) => (await store()).changesAfter(...given),
    archive: async (...given) => (await store()).archive(...given),
    quarantined: async () => (await store()).quarantined(),
    compact: async (...given) => (await store()).compact(...given),
  };
}
