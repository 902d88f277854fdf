import { parseArgs } from 'node:util';
import { faultOfEdits, faultOfMerge, randomlyEdited } from './edits';
import { faultOfSurvey } from './ladders';
import { goodFiles, type Tally, tryReaders } from './readers';
import { faultOfFeet, faultOfPack, faultOfTables } from './round-trips';
import { goodPacks, type Tried, tryPack, tryPhoto, tryWorldFile } from './whole-files';

/**
 * `npm run fuzz`: every reader on files made wrong, edits and joins in random order, surveys that go out and come back,
 * and random surveys through the pipeline; exit 1 when anything is found.
 */
const { values } = parseArgs({
  options: {
    seconds: { type: 'string', default: '60' },
    surveys: { type: 'string', default: '10000' },
    seed: { type: 'string', default: '1' },
  },
});
const seconds = Number(values.seconds);
let seed = Number(values.seed) * 1_000_000;

const good = goodFiles();
const tally: Tally = { tried: 0, read: {}, refused: {}, findings: [] };
const until = performance.now() + seconds * 1000;
while (performance.now() < until) tryReaders(seed++, good, tally);
console.log(`readers: ${tally.tried} wrong files made of ${new Set(good).size} good ones in ${seconds} s`);
for (const reader of Object.keys({ ...tally.read, ...tally.refused })) {
  console.log(`  ${reader}: ${tally.read[reader] ?? 0} read, ${tally.refused[reader] ?? 0} refused with a sentence`);
}

const faults: string[] = [];
const packs = await goodPacks();
let edits = 0;
/** What is tried besides, and the share of the time that it gets. */
const TRIALS: readonly (readonly [string, number, (seed: number) => Tried | string | null | Promise<string | null>])[] =
  [
    ['wrong packs', 0.2, (at) => tryPack(at, packs)],
    ['wrong photos', 0.05, tryPhoto],
    ['wrong world files', 0.02, tryWorldFile],
    ['random orders of 60 edits, undone and replayed', 0.15, (at) => faultOfEdits(counted(randomlyEdited(at)))],
    ['pairs of edited copies joined', 0.15, faultOfMerge],
    ['surveys by tables and back', 0.1, faultOfTables],
    ['surveys by pack and back', 0.2, faultOfPack],
    ['tables in metres, feet, US survey feet and kilometres', 0.15, faultOfFeet],
  ];
for (const [what, share, tryOne] of TRIALS) {
  const end = performance.now() + share * seconds * 1000;
  const told: Record<string, number> = {};
  let tried = 0;
  for (; tried < 1 || performance.now() < end; tried += 1) {
    await attempt(what, seed + tried, async () => {
      const outcome = await tryOne(seed + tried);
      if (outcome !== 'read' && outcome !== 'refused') return outcome;
      told[outcome] = (told[outcome] ?? 0) + 1;
      return null;
    });
  }
  const outcomes = Object.entries(told).map(([outcome, count]) => `, ${count} ${outcome}`);
  console.log(`${what}: ${tried}${outcomes.join('')}`);
}
console.log(`  ${edits} edits, undos and redos in them`);

let surveys = 0;
const end = performance.now() + 4 * seconds * 1000;
for (; surveys < Number(values.surveys) && performance.now() < end; surveys += 1) {
  await attempt('appraise', seed + surveys, () => faultOfSurvey(seed + surveys));
}
console.log(`appraise: ${surveys} random surveys, each also in thousands`);
const findings = [...tally.findings, ...faults];
for (const finding of findings.slice(0, 40)) console.log(`FOUND ${finding}`);
console.log(findings.length === 0 ? 'nothing found' : `${findings.length} findings`);
process.exitCode = findings.length === 0 ? 0 : 1;

async function attempt(what: string, at: number, run: () => string | null | Promise<string | null>): Promise<void> {
  try {
    const fault = await run();
    if (fault) faults.push(`${what}, seed ${at}: ${fault}`);
  } catch (error) {
    faults.push(`${what}, seed ${at}: ${error instanceof Error ? error.stack?.slice(0, 400) : String(error)}`);
  }
}

function counted<T extends { readonly done: number }>(edited: T): T {
  edits += edited.done;
  return edited;
}
