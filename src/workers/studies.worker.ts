import { expose } from 'comlink';
import type { SoundingInput } from '../studies/sounding-input';
import { createStudiesTable, type StudiesTable } from './studies-table';

const table = createStudiesTable();

const exposed = {
  /** `heard` is a function of the page: it is called and not waited for. */
  sounding: async (input: SoundingInput, heard: (fraction: number) => unknown) =>
    table.sounding(input, (fraction) => void heard(fraction)),
  plan: async (...given: Parameters<StudiesTable['plan']>) => table.plan(...given),
};

/** What the page can ask of the worker. */
export type StudiesWorker = typeof exposed;

expose(exposed);
