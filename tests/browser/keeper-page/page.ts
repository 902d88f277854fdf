import type { AppParts } from '../../../src/app/app-context';
import { edit, redo, undo } from '../../../src/app/edit';
import { createKeeper } from '../../../src/app/keeper';
import { showWritten } from '../../../src/app/show-written';
import { INITIAL_STATE } from '../../../src/app/state/app-state';
import { reduce } from '../../../src/app/state/reduce';
import { createStore } from '../../../src/app/state/store';
import { createTabs } from '../../../src/app/tabs';
import { joinLayers } from '../../../src/exchange/write/layer-collection';
import type { Findings } from '../../../src/findings';
import { createSecondCopy } from '../../../src/store/second-copy';
import { createSurveyStore } from '../../../src/store/survey-store';
import { done } from '../../../src/survey/outcome';
import { FIRST, type Opened, randomEdit, sessionOf, textOf } from './random-edits';

/*
 * The part of the app that keeps what is entered: its own store, keeper, tabs and edits, with the real IndexedDB, locks
 * and channel, and without the map and the worker, so that it can be killed and opened again often.
 */

const store = createStore(INITIAL_STATE, reduce);
const findings = {} as Findings;
const computed = {
  far: Promise.resolve(joinLayers([])),
  layers: Promise.resolve(joinLayers([])),
  findings: Promise.resolve(findings),
};
const client = { take: () => computed, change: () => computed } as unknown as AppParts['client'];
const device = createSurveyStore(undefined, { secondCopy: createSecondCopy() });
const keep = createKeeper(store, device, {
  tabs: createTabs(navigator.locks, new BroadcastChannel('hollowline')),
  show: (survey, history, changes) => showWritten({ store, client }, survey, history, changes),
});
const parts: AppParts = { store, client, device, keep };

function opened(): Opened {
  const { phase, history } = store.get();
  return { survey: phase.kind === 'ready' ? phase.content.survey : FIRST, history };
}

const keeperPage = {
  /** Opens what was open last. */
  async begin() {
    const kept = await device.lastOpen();
    const content = { survey: kept?.survey ?? FIRST, notes: [], findings };
    store.dispatch({ type: 'opened', content, history: kept?.history ?? { undo: [], redo: [] } });
    await keep.follow(kept?.key ?? null, kept?.seq);
    return {
      text: textOf(opened()),
      seq: kept?.seq ?? 0,
      restored: kept?.restored ?? false,
      damage: (kept?.damage ?? []).map(({ what, seq, count }) => ({ what, seq, count })),
    };
  },
  /** Edits until `most`, some awaited and some at once; `acknowledged` hears how many are on the disk. */
  async run(seed: number, most: number, acknowledged: (count: number) => void) {
    const random = sessionOf(seed);
    const pace = sessionOf(seed + 1);
    for (let i = 1; i <= most; i += 1) {
      const { kind, change } = randomEdit(opened(), random);
      const entering = kind === 'do' ? edit(parts, () => done(change)) : kind === 'undo' ? undo(parts) : redo(parts);
      // The promise alone is no word: the page says "saved" by this.
      const told = entering.then(() => {
        if (store.get().kept === 'kept') acknowledged(i);
      });
      if (pace() < 0.6) await told;
    }
  },
  /** An edit that takes so many characters, which cannot be packed. */
  enter(value: number, length = 1) {
    const label = Array.from({ length }, () => Math.floor(36 * Math.random()).toString(36)).join('');
    return edit(parts, (survey) => done({ label, site: { ...survey.site, name: String(value) } }));
  },
  state() {
    const { kept, tab, trouble } = store.get();
    return { kept, tab, trouble, name: opened().survey.site.name, undo: opened().history.undo.length };
  },
  text: () => textOf(opened()),
  undo: () => undo(parts),
  writeHere: () => keep.writeHere(),
  device,
};

declare global {
  interface Window {
    keeperPage: typeof keeperPage;
    /** Tells the test, which lives on when the page does not. */
    acknowledged(count: number): void;
  }
}

window.keeperPage = keeperPage;
