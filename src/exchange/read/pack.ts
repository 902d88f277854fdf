import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Note } from '../../survey/note';
import type { Survey } from '../../survey/survey';
import { isZip, unzip } from './karst-zip';
import { Notebook } from './notebook';
import { surveyOfLayers } from './pack-layers';
import { readSurveyFile } from './survey-file';

/*
 * A pack that was handed over, read again. One that holds the survey gives the survey; one for planners gives its lines and
 * karst features, and says what cannot be had from it.
 */

const METADATA = 'metadata.json';
const SUMS = 'SHA256SUMS';
const SURVEY = /^[^/]*\.survey\.json$/;
const LAYER = /^layers\/([a-z_]+)\.geojson$/;
const WHOLE_FILE = { row: null, column: null };

const isWanted = (name: string): boolean => name === METADATA || name === SUMS || SURVEY.test(name) || LAYER.test(name);

/** Whether bytes are a zip that holds what a pack does. */
export function isPack(bytes: Uint8Array): boolean {
  if (!isZip(bytes)) return false;
  const members = unzip(bytes, (name) => name === METADATA);
  return members.ok && documentOf(members.value.get(METADATA)) !== null;
}

/**
 * Reads a pack. `survey` is null with a fault for what is no pack, is of a newer program, or holds a file that is not the
 * one that was packed.
 */
export function readPack(
  bytes: Uint8Array,
  file: string,
): { readonly survey: Survey | null; readonly notes: readonly Note[] } {
  const notes = new Notebook(file);
  const refuse = (read: string, expected: string, sentence: string) => {
    notes.fault(WHOLE_FILE, read, expected, `${notes.label}: ${sentence}`);
    return { survey: null, notes: notes.all() };
  };
  const names: string[] = [];
  const listed = unzip(bytes, (name) => {
    names.push(name);
    return name === METADATA || name === SUMS;
  });
  if (!listed.ok) return refuse(listed.code, `a pack; ${listed.sentence}`, listed.sentence);
  const metadata = documentOf(listed.value.get(METADATA));
  if (!metadata) return refuse('a zip', 'a pack', 'This zip is no pack: it has no metadata that say so.');
  if (typeof metadata.version !== 'number' || metadata.version > 1) {
    return refuse(String(metadata.version), 'version 1', 'This pack was made by a newer program. Update this one.');
  }
  const survey = names.find((name) => SURVEY.test(name));
  const members = unzip(bytes, (name) => (survey === undefined ? isWanted(name) : name === survey));
  if (!members.ok) return refuse(members.code, `a pack; ${members.sentence}`, members.sentence);
  const sums = sumsOf(listed.value.get(SUMS));
  for (const [name, content] of members.value) {
    if (name === SUMS || sums.get(name) === bytesToHex(sha256(content))) continue;
    return refuse(
      name,
      'the file that was packed',
      `${name} is not what was packed: it was changed, or the pack is damaged.`,
    );
  }
  if (survey !== undefined) return readSurveyFile(members.value.get(survey) as Uint8Array, `${file}/${survey}`);
  const layers = new Map<string, unknown>();
  for (const [name, content] of members.value) {
    const layer = LAYER.exec(name)?.[1];
    if (layer) layers.set(layer, jsonOf(content));
  }
  const read = surveyOfLayers(metadata, layers, notes);
  if (!read.ok) return refuse(read.code, `a pack; ${read.sentence}`, read.sentence);
  return { survey: read.value, notes: notes.all() };
}

function documentOf(bytes: Uint8Array | undefined): Readonly<Record<string, unknown>> | null {
  const json = bytes ? jsonOf(bytes) : null;
  if (typeof json !== 'object' || json === null) return null;
  const whole = json as Readonly<Record<string, unknown>>;
  return whole.format === 'hollowline-pack' ? whole : null;
}

function jsonOf(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return null;
  }
}

function sumsOf(bytes: Uint8Array | undefined): ReadonlyMap<string, string> {
  const lines = new TextDecoder().decode(bytes ?? new Uint8Array(0)).split('\n');
  return new Map(
    lines.flatMap((line) => {
      const [, sum, name] = /^([0-9a-f]{64}) {2}(.+)$/.exec(line) ?? [];
      return sum && name ? [[name, sum] as const] : [];
    }),
  );
}
