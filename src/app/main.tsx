import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '../../styles/tokens.css';
import '../../styles/page.css';
import '../../styles/book.css';
import '../../styles/map.css';
import '../../styles/read.css';
import { startFindingsClient } from '../workers/findings-client';
import { AppContext, type AppParts } from './app-context';
import { DEMO_RELIEF_URL, DEMO_SURVEY_URL } from './demo';
import { openRelief, openSurvey } from './open-survey';
import { remembered } from './remembered';
import { App } from './screens/App';
import { INITIAL_STATE } from './state/app-state';
import { reduce } from './state/reduce';
import { createStore } from './state/store';
import { surveyAddress } from './survey-address';
import { themeChoice } from './theme';

const store = createStore({ ...INITIAL_STATE, theme: themeChoice(remembered('theme')) }, reduce);
const client = startFindingsClient((reason) =>
  store.dispatch({ type: 'failed', sentence: `The computation broke off: ${reason}. Reload the page.` }),
);
const parts: AppParts = { store, client };

const address = surveyAddress(location.href, DEMO_SURVEY_URL);
if (address.ok) {
  void openSurvey(store, client, address.value);
  const isDemo = address.value.href === new URL(DEMO_SURVEY_URL, location.href).href;
  if (isDemo) void openRelief(store, new URL(DEMO_RELIEF_URL, location.href));
} else {
  store.dispatch({ type: 'failed', sentence: address.sentence });
}

const root = document.getElementById('app');
if (!root) throw new Error('The page has no place for the app.');
createRoot(root).render(
  <StrictMode>
    <AppContext value={parts}>
      <App />
    </AppContext>
  </StrictMode>,
);
