import { whyNot } from '../store/failures';
import type { Kept } from '../store/read-kept';
import type { SurveyStore } from '../store/survey-store';
import type { AppParts } from './app-context';
import { openRelief, openSurvey } from './open-survey';
import { surveyAddress } from './survey-address';
import { foundSentence } from './words/damage-words';

export interface DemoAddresses {
  readonly survey: string;
  readonly relief: string;
}

/** Opens what the address asks for; else the survey that was open last on this device; else the demo. */
export async function start(parts: AppParts, pageAddress: string, demo: DemoAddresses): Promise<void> {
  const { store, client } = parts;
  const address = surveyAddress(pageAddress, demo.survey);
  if (!address.ok) return store.dispatch({ type: 'failed', sentence: address.sentence });
  const demoAddress = new URL(demo.survey, pageAddress);
  if (address.value.href !== demoAddress.href) return openSurvey(store, client, address.value);
  const kept = await lastOpen(parts.device, (sentence) => store.dispatch({ type: 'trouble', sentence }));
  if (kept) return resume(parts, kept);
  await openDemo(parts, pageAddress, demo);
}

/** The invented site that the page brings along, with its relief. */
export async function openDemo({ store, client }: AppParts, pageAddress: string, demo: DemoAddresses): Promise<void> {
  await openSurvey(store, client, new URL(demo.survey, pageAddress));
  await openRelief(store, new URL(demo.relief, pageAddress));
}

/** Goes on with a survey that this device has kept, and says what was found damaged. */
export async function resume({ store, client, keep }: AppParts, kept: Kept): Promise<void> {
  const { key, survey, history, seq } = kept;
  try {
    const computing = client.take(survey, store.get().drape);
    store.dispatch({ type: 'drawn', drawn: { surveyId: survey.id, layers: await computing.far } });
    const findings = await computing.findings;
    store.dispatch({ type: 'opened', content: { survey, notes: [], findings }, history });
    const following = keep.follow(key, seq);
    const sentence = foundSentence(kept);
    if (sentence !== null) store.dispatch({ type: 'trouble', sentence });
    store.dispatch({ type: 'drawn', drawn: { surveyId: survey.id, layers: await computing.layers } });
    await following;
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    store.dispatch({ type: 'failed', sentence: `The survey kept on this device could not be opened: ${why}` });
  }
}

async function lastOpen(device: SurveyStore, say: (sentence: string) => void): Promise<Kept | null> {
  try {
    return await device.lastOpen();
  } catch (error) {
    const why = whyNot(error);
    say(`What this device keeps could not be read (${why}). The demo is shown; nothing was deleted.`);
    return null;
  }
}
