import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import type { AppParts } from '../../src/app/app-context';
import { edit, undo } from '../../src/app/edit';
import { createKeeper } from '../../src/app/keeper';
import { showWritten } from '../../src/app/show-written';
import { INITIAL_STATE } from '../../src/app/state/app-state';
import { reduce } from '../../src/app/state/reduce';
import { createStore } from '../../src/app/state/store';
import { type Channel, createTabs, type Locks, type TabWord } from '../../src/app/tabs';
import { joinLayers } from '../../src/exchange/write/layer-collection';
import type { Findings } from '../../src/findings';
import { createSurveyStore } from '../../src/store/survey-store';
import { done } from '../../src/survey/outcome';
import type { Reading, Survey } from '../../src/survey/survey';
import { emptySurvey, madeLine, madeReading } from '../helpers/made-survey';

const line = madeLine('A', []);
const survey: Survey = { ...emptySurvey('tabs'), lines: [line], readings: [madeReading(line, { value: 0 })] };
const [reading] = survey.readings as [Reading];
const FINDINGS = {} as Findings;

/**
 * Exclusive locks as the Web Locks API has them (W3C, Web Locks API, 2.4): asked for if available, waited for, or
 * stolen, which ends the holder's request with an error.
 */
function fakeLocks(): Locks {
  interface Asked {
    readonly give: () => void;
    readonly stolen: () => void;
  }
  const held = new Map<string, Asked>();
  const queued = new Map<string, Asked[]>();
  const next = (name: string): void => {
    if (held.has(name)) return;
    const first = queued.get(name)?.shift();
    if (!first) return;
    held.set(name, first);
    first.give();
  };
  const request = (name: string, options: LockOptions, work: (lock: Lock | null) => unknown): Promise<unknown> =>
    new Promise((resolve, reject) => {
      const asked: Asked = {
        give: () => {
          Promise.resolve(work({ name, mode: 'exclusive' })).then((value) => {
            if (held.get(name) === asked) held.delete(name);
            resolve(value);
            next(name);
          }, reject);
        },
        stolen: () => reject(new DOMException('The lock was stolen.', 'AbortError')),
      };
      if (options.steal) {
        held.get(name)?.stolen();
        held.set(name, asked);
        return asked.give();
      }
      if (options.ifAvailable && held.has(name)) return resolve(work(null));
      const queue = queued.get(name) ?? [];
      queued.set(name, queue);
      queue.push(asked);
      options.signal?.addEventListener('abort', () => {
        if (!queue.includes(asked)) return;
        queue.splice(queue.indexOf(asked), 1);
        reject(new DOMException('Not waited for any more.', 'AbortError'));
      });
      next(name);
    });
  return { request: request as Locks['request'] };
}

/** Tells every other tab, a moment later. */
function fakeChannels(): () => Channel {
  const all: { readonly heard: ((event: MessageEvent<TabWord>) => void)[] }[] = [];
  return () => {
    const own = { heard: [] as ((event: MessageEvent<TabWord>) => void)[] };
    all.push(own);
    return {
      postMessage(data) {
        for (const other of all) {
          if (other === own) continue;
          setTimeout(() => other.heard.forEach((hear) => void hear({ data } as MessageEvent<TabWord>)));
        }
      },
      addEventListener: (_, hear) => void own.heard.push(hear),
    };
  };
}

let databases = 0;

/** A browser with a device of its own, whose tabs are opened one by one. */
function browser(locks: Locks | undefined = fakeLocks()) {
  databases += 1;
  const name = `tabs-${databases}`;
  const channel = fakeChannels();
  const openTab = async () => {
    const store = createStore(INITIAL_STATE, reduce);
    const computed = {
      far: Promise.resolve(joinLayers([])),
      layers: Promise.resolve(joinLayers([])),
      findings: Promise.resolve(FINDINGS),
    };
    const client = { take: () => computed, change: () => computed } as unknown as AppParts['client'];
    const device = createSurveyStore(name);
    const tabs = createTabs(locks, channel());
    const keep = createKeeper(store, device, {
      tabs,
      show: (next, history, changes) => showWritten({ store, client }, next, history, changes),
    });
    const parts: AppParts = { store, client, device, keep };
    const kept = await device.lastOpen();
    const open = kept?.survey ?? survey;
    store.dispatch({
      type: 'opened',
      content: { survey: open, notes: [], findings: FINDINGS },
      history: kept?.history ?? { undo: [], redo: [] },
    });
    await keep.follow(kept?.key ?? null, kept?.seq);
    return {
      parts,
      tab: () => store.get().tab,
      value: () => {
        const { phase } = store.get();
        return phase.kind === 'ready' ? phase.content.survey.readings[0]?.value : null;
      },
      enter: (value: number) =>
        edit(parts, () => done({ label: `${value}`, put: { readings: [{ ...reading, value }] } })),
      writeHere: () => keep.writeHere(),
      close: () => tabs.leave(),
    };
  };
  return { openTab, device: createSurveyStore(name) };
}

describe('two tabs with one survey', () => {
  it('have one that writes; the other follows, and takes no entries', async () => {
    const { openTab } = browser();
    const first = await openTab();
    await first.enter(1);
    expect(first.tab()).toBe('writes');
    const second = await openTab();
    expect([second.tab(), second.value()]).toEqual(['follows', 1]);
    await first.enter(2);
    await expect.poll(second.value).toBe(2);
    const refused = await second.enter(9);
    expect(refused).toMatchObject({ ok: false, code: 'other_tab_writes' });
    expect(second.parts.store.get().trouble).toContain('open in another tab');
    expect([first.value(), second.value()]).toEqual([2, 2]);
    await undo(second.parts);
    expect(second.value()).toBe(2);
  });

  it('change their roles when a person says so, with nothing lost and everything to be undone', async () => {
    const { openTab, device } = browser();
    const first = await openTab();
    await first.enter(1);
    const second = await openTab();
    await first.enter(2);
    expect(await second.writeHere()).toMatchObject({ ok: true });
    expect([first.tab(), second.tab(), second.value()]).toEqual(['follows', 'writes', 2]);
    await second.enter(3);
    await expect.poll(first.value).toBe(3);
    await undo(second.parts);
    await undo(second.parts);
    await expect.poll(first.value).toBe(1);
    expect(await first.writeHere()).toMatchObject({ ok: true });
    expect([first.tab(), second.tab()]).toEqual(['writes', 'follows']);
    await first.enter(4);
    await expect.poll(second.value).toBe(4);
    expect((await device.lastOpen())?.survey.readings[0]?.value).toBe(4);
  });

  it('leave the writing to the one that is left', async () => {
    const { openTab } = browser();
    const first = await openTab();
    await first.enter(1);
    const second = await openTab();
    first.close();
    await expect.poll(second.tab).toBe('writes');
    await second.enter(2);
    expect(second.parts.store.get().kept).toBe('kept');
  });

  it('do not take over from one that has something unwritten', async () => {
    const { openTab } = browser();
    const first = await openTab();
    await first.enter(1);
    const second = await openTab();
    const { append } = first.parts.device;
    Object.assign(first.parts.device, { append: () => Promise.reject(new Error('the disk is full')) });
    await first.enter(2);
    expect(await second.writeHere()).toMatchObject({ ok: false, code: 'other_tab_busy' });
    expect([first.tab(), second.tab()]).toEqual(['writes', 'follows']);
    Object.assign(first.parts.device, { append });
    await first.enter(3);
    expect(first.parts.store.get().kept).toBe('kept');
    await expect.poll(second.value).toBe(3);
  });

  it('lose nothing either where the browser has no locks: each takes in what the other wrote', async () => {
    const { openTab, device } = browser(null as unknown as undefined);
    const first = await openTab();
    await first.enter(1);
    const second = await openTab();
    expect([first.tab(), second.tab()]).toEqual(['unguarded', 'unguarded']);
    await Promise.all([first.enter(2), second.enter(3)]);
    expect([first.parts.store.get().kept, second.parts.store.get().kept]).toEqual(['kept', 'kept']);
    const kept = await device.lastOpen();
    expect(kept?.seq).toBe(3);
    const last = kept?.survey.readings[0]?.value;
    await expect.poll(() => [first.value(), second.value()]).toEqual([last, last]);
  });
});
