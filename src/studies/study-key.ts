import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

/** What a study's result is kept under: the name of the study and the hash of everything that goes into it. */
export const studyKey = (study: string, input: object): string =>
  `${study}:${bytesToHex(sha256(utf8ToBytes(JSON.stringify(input))))}`;

/** Hears the fraction of a study that is done, 0 to 1. */
export type Tick = (fraction: number) => void;
