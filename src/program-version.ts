import manifest from '../package.json';

/** Written into every output, so that a figure can be traced to the program that computed it. */
export const PROGRAM_VERSION: string = manifest.version;
