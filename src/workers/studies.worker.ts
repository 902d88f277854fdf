import { expose } from 'comlink';
import type { Tick } from '../studies/study-key';
import { createStudiesTable, type StudiesTable } from './studies-table';

const table = createStudiesTable();

/** Least change that is told, as a share: each telling is a message, and a bar has no more steps to show. */
const STEP = 0.005;

/** `heard` is a function of the page: it is called and not waited for. */
function calmly(heard: (fraction: number) => unknown): Tick {
  let told = Number.NEGATIVE_INFINITY;
  return (fraction) => {
    if (fraction < told + STEP && fraction < 1) return;
    told = fraction;
    void heard(fraction);
  };
}

const exposed = {
  sounding: async (...[input, tick]: Parameters<StudiesTable['sounding']>) => table.sounding(input, calmly(tick)),
  plan: async (...[question, tick]: Parameters<StudiesTable['plan']>) => table.plan(question, calmly(tick)),
  section: async (...[input, tick]: Parameters<StudiesTable['section']>) => table.section(input, calmly(tick)),
  voidSearch: async (...[input, tick]: Parameters<StudiesTable['voidSearch']>) => table.voidSearch(input, calmly(tick)),
  compare: (...[question, tick]: Parameters<StudiesTable['compare']>) => table.compare(question, calmly(tick)),
};

/** What the page can ask of the worker. */
export type StudiesWorker = typeof exposed;

expose(exposed);
