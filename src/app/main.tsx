import { StrictMode } from 'react';
import { createRoot, type Root } from 'react-dom/client';
import '../../styles/tokens.css';
import '../../styles/page.css';
import '../../styles/book.css';
import '../../styles/map.css';
import '../../styles/read.css';
import '../../styles/zones.css';
import '../../styles/figures.css';
import '../../styles/record.css';
import '../../styles/field.css';
import { laterStore } from '../store/later-store';
import { startFindingsClient } from '../workers/findings-client';
import { AppContext, type AppParts } from './app-context';
import { DEMO_RELIEF_URL, DEMO_SURVEY_URL } from './demo';
import { PageContext } from './field/page-context';
import { createKeptPage } from './field/page-copy';
import { offerRemount } from './inspection';
import { keepFocus } from './keep-focus';
import { createKeeper } from './keeper';
import { lastingClient } from './lasting-client';
import { remembered } from './remembered';
import { App } from './screens/App';
import { NewerPage } from './screens/field/NewerPage';
import { showWritten } from './show-written';
import { start } from './start';
import { INITIAL_STATE } from './state/app-state';
import { coordinateFormOf, NO_LAYOUT } from './state/layout-state';
import { reduce } from './state/reduce';
import { createStore } from './state/store';
import { createTabs } from './tabs';
import { themeChoice } from './theme';

const layout = { ...NO_LAYOUT, coordinateForm: coordinateFormOf(remembered('coordinate_form')) };
const store = createStore({ ...INITIAL_STATE, theme: themeChoice(remembered('theme')), layout }, reduce);
const client = lastingClient({ store }, startFindingsClient);
// Loaded beside the page: it brings the schemas along.
const device = laterStore(async () => {
  const [{ createSurveyStore }, { createSecondCopy }] = await Promise.all([
    import('../store/survey-store'),
    import('../store/second-copy'),
  ]);
  return createSurveyStore(undefined, {
    secondCopy: createSecondCopy(),
    onBlocked: () => store.dispatch({ type: 'trouble', sentence: OLDER_TAB }),
  });
});
const channel = typeof BroadcastChannel === 'function' ? new BroadcastChannel('hollowline') : undefined;
const keep = createKeeper(store, device, {
  tabs: createTabs(navigator.locks, channel),
  show: (survey, history, changes) => showWritten({ store, client }, survey, history, changes),
});
const page = createKeptPage(() => keep.written());
const parts: AppParts = { store, client, device, keep };

void start(parts, location.href, { survey: DEMO_SURVEY_URL, relief: DEMO_RELIEF_URL }).finally(() => page.start());

// Leaving while something is not on the disk is asked about first.
window.addEventListener('beforeunload', (event) => {
  if (['keeping', 'not_kept'].includes(store.get().kept)) event.preventDefault();
});

keepFocus(document);

const place = document.getElementById('app');
if (!place) throw new Error('The page has no place for the app.');
let root = mount(place);
offerRemount(() => {
  root.unmount();
  root = mount(place);
});

const notes = document.createElement('div');
document.body.append(notes);
// Apart from the app: it has to be said also when the app cannot go on.
createRoot(notes).render(<NewerPage page={page} />);

const OLDER_TAB =
  'An older version of this page is open in another tab and holds what this device keeps. Close that tab.';

function mount(into: HTMLElement): Root {
  const made = createRoot(into);
  made.render(
    <StrictMode>
      <AppContext value={parts}>
        <PageContext value={page}>
          <App />
        </PageContext>
      </AppContext>
    </StrictMode>,
  );
  return made;
}
