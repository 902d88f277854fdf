import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { Survey } from './survey';

/**
 * SHA-256 of the survey as it is kept: outputs name it, so that a figure can be traced to what it was computed from.
 * Taken when something is written and not at every recomputation: it costs more than reading the survey does.
 */
export const hashOf = (survey: Survey): string => bytesToHex(sha256(utf8ToBytes(JSON.stringify(survey))));
