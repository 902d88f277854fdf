import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import { unzipSync } from 'fflate';
import { appraise } from '../../src/appraise';
import { discloseTo } from '../../src/discretion/disclose-to';
import { isPack, readPack } from '../../src/exchange/read/pack';
import { readWorldFile } from '../../src/exchange/read/world-file';
import { strippedPhoto } from '../../src/exchange/write/photo-stripped';
import { packFiles, zipped } from '../../src/handover/pack';
import { sql } from '../handover/sql';
import { jpegWithPlace, pngWithPlace, webpWithPlace } from '../helpers/made-photos';
import { type Chance, chanceFrom } from './chance';
import { randomSurvey } from './ladders';
import { mutated } from './mutate';
import { said, throughTheHouse } from './readers';
import { surveyorPack } from './round-trips';

export interface Packs {
  readonly surveyor: Uint8Array;
  readonly planner: Uint8Array;
}

/** Two good packs to be made wrong: one with the survey, one with layers alone. */
export async function goodPacks(): Promise<Packs> {
  const survey = randomSurvey(5);
  const outcome = discloseTo(survey, appraise(survey), 'planner', { settled: [], earlier: [] });
  if (!outcome.ok || outcome.value.kind !== 'disclosed') throw new Error('the random survey has a leak');
  const terms = { madeAt: '2026-11-25', contact: null, licence: null, title: null };
  const files = await packFiles(outcome.value.disclosed, terms, { sql });
  if (!files.ok) throw new Error(files.sentence);
  return { surveyor: await surveyorPack(survey), planner: zipped(files.value) };
}

export type Tried = 'read' | 'refused';

/** A pack with wrong bytes, or with one member made wrong and its digest made right again. Throws what it finds. */
export function tryPack(seed: number, packs: Packs): Tried {
  const chance = chanceFrom(seed);
  const whole = chance.of([packs.surveyor, packs.planner]);
  const wrong = chance.below(3) === 0 ? mutated(whole, chance) : withWrongMember(whole, chance);
  isPack(wrong);
  const { survey, notes } = readPack(wrong, 'pack.zip');
  if (survey) throughTheHouse(survey);
  else said(notes.map(({ sentence }) => sentence));
  return survey ? 'read' : 'refused';
}

function withWrongMember(whole: Uint8Array, chance: Chance): Uint8Array {
  const members = Object.entries(unzipSync(whole)).filter(([name]) =>
    /survey\.json$|^layers\/.*geojson$|^metadata/.test(name),
  );
  const chosen = chance.below(members.length);
  const files = members.map(([name, bytes], i) => ({ name, bytes: i === chosen ? mutated(bytes, chance) : bytes }));
  const sums = files.map(({ name, bytes }) => `${bytesToHex(sha256(bytes))}  ${name}\n`).join('');
  return zipped([...files, { name: 'SHA256SUMS', bytes: new TextEncoder().encode(sums) }]);
}

const PHOTOS = [jpegWithPlace(), pngWithPlace(), webpWithPlace()];

/** A photo with wrong bytes: what is given away of it comes out the same when it is stripped once more. */
export function tryPhoto(seed: number): Tried {
  const chance = chanceFrom(seed);
  const wrong = mutated(chance.of(PHOTOS), chance);
  const once = strippedPhoto(wrong);
  if (!once.ok) return said([once.sentence]);
  const twice = strippedPhoto(once.value.bytes);
  if (!twice.ok) throw new Error(`what was stripped is refused: ${twice.sentence}`);
  if (Buffer.compare(once.value.bytes, twice.value.bytes) !== 0) throw new Error('stripping twice strips more');
  return 'read';
}

/** A world file with wrong bytes: six finite numbers, or a refusal. */
export function tryWorldFile(seed: number): Tried {
  const good = new TextEncoder().encode('0.5\n0\n0\n-0.5\n500000.25\n4140000.75\n');
  const read = readWorldFile(new TextDecoder().decode(mutated(good, chanceFrom(seed))));
  if (!read.ok) return said([read.sentence]);
  if (!Object.values(read.value).every(Number.isFinite)) throw new Error('a number that is none');
  return 'read';
}
