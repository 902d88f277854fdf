import type { FeatureCollection } from 'geojson';
import type { FindingsClient } from '../workers/findings-client';
import type { AppState } from './state/app-state';
import type { Action } from './state/reduce';
import type { Store } from './state/store';
import { fileName } from './survey-address';

type AppStore = Store<AppState, Action>;

async function fetched(address: URL): Promise<Response> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`“${fileName(address)}” could not be fetched (${response.status}).`);
  return response;
}

/** Fetches a survey, has it read and computed, and puts it into the store; every way to fail ends in a sentence. */
export async function openSurvey(store: AppStore, client: FindingsClient, address: URL): Promise<void> {
  try {
    const bytes = new Uint8Array(await (await fetched(address)).arrayBuffer());
    const { surveyId, notes } = await client.open(bytes, fileName(address));
    if (surveyId === null) {
      const faults = notes.filter((note) => note.kind === 'fault');
      const sentence = `“${fileName(address)}” is not a survey that this program can read.`;
      return store.dispatch({ type: 'failed', sentence, notes: faults });
    }
    const computing = client.compute(store.get().drape);
    const reading = client.survey();
    store.dispatch({ type: 'drawn', drawn: { surveyId, layers: await computing.far } });
    const [findings, survey] = await Promise.all([computing.findings, reading]);
    store.dispatch({ type: 'opened', content: { survey, notes, findings } });
    store.dispatch({ type: 'drawn', drawn: { surveyId, layers: await computing.layers } });
  } catch (error) {
    store.dispatch({ type: 'failed', sentence: reason(error) });
  }
}

/** Draws the segments on other ground: the same findings, other geometry. */
export async function changeDrape(store: AppStore, client: FindingsClient, drape: AppState['drape']): Promise<void> {
  store.dispatch({ type: 'drape', drape });
  try {
    const layers = await client.compute(drape).layers;
    const { phase, drape: wanted } = store.get();
    if (phase.kind !== 'ready' || wanted !== drape) return;
    store.dispatch({ type: 'drawn', drawn: { surveyId: phase.content.survey.id, layers } });
  } catch (error) {
    store.dispatch({ type: 'trouble', sentence: reason(error) });
  }
}

/** The relief is only a backdrop: without it the page goes on, and says so. */
export async function openRelief(store: AppStore, address: URL): Promise<void> {
  try {
    const relief = (await (await fetched(address)).json()) as FeatureCollection;
    store.dispatch({ type: 'relief', relief });
  } catch (error) {
    store.dispatch({ type: 'trouble', sentence: `The relief is not drawn: ${reason(error)}` });
  }
}

function reason(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
