import { sha256 } from '@noble/hashes/sha2.js';
import { utf8ToBytes } from '@noble/hashes/utils.js';

/** SHA-256 of a text in base 64: how a content security policy names an inline script or style (CSP Level 2). */
export const base64Hash = (text: string): string => btoa(String.fromCharCode(...sha256(utf8ToBytes(text))));
