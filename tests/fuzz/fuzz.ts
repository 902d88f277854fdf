import { parseArgs } from 'node:util';
import { faultOfSurvey } from './ladders';
import { goodFiles, type Tally, tryReaders } from './readers';

/** `npm run fuzz`: every reader on files made wrong, and random surveys through the pipeline; exit 1 when anything is found. */
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

let surveys = 0;
const faults: string[] = [];
const end = performance.now() + 4 * seconds * 1000;
for (; surveys < Number(values.surveys) && performance.now() < end; surveys += 1) {
  try {
    const fault = faultOfSurvey(seed + surveys);
    if (fault) faults.push(`seed ${seed + surveys}: ${fault}`);
  } catch (error) {
    faults.push(`seed ${seed + surveys}: ${error instanceof Error ? error.stack?.slice(0, 400) : String(error)}`);
  }
}
console.log(`appraise: ${surveys} random surveys, each also in thousands`);
const findings = [...tally.findings, ...faults];
for (const finding of findings.slice(0, 40)) console.log(`FOUND ${finding}`);
console.log(findings.length === 0 ? 'nothing found' : `${findings.length} findings`);
process.exitCode = findings.length === 0 ? 0 : 1;
