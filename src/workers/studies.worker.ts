import { expose } from 'comlink';
import type { SoundingInput } from '../studies/sounding-input';
import { createStudiesTable } from './studies-table';

const table = createStudiesTable();

const exposed = {
  /** `heard` is a function of the page: it is called and not waited for. */
  sounding: async (input: SoundingInput, heard: (fraction: number) => unknown) =>
    table.sounding(input, (fraction) => void heard(fraction)),
};

/** What the page can ask of the worker. */
export type StudiesWorker = typeof exposed;

expose(exposed);
