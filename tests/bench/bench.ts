import { cpus, totalmem } from 'node:os';
import { benchAppraise } from './appraise.bench';

/** Bars of this bench; ratios within one run, so that a slow machine does not fail them. */
const APPRAISE_OVER_PARSE = 5;
const LARGEST_EXPONENT = 1.1;

const { rows, exponent } = benchAppraise();
const [cpu] = cpus();
const lines = [
  `${cpu?.model ?? 'unknown processor'} × ${cpus().length}, ${Math.round(totalmem() / 2 ** 30)} GiB, Node ${process.version}`,
  '',
  'appraise against JSON.parse of the same survey, and the same without a reference (best of the rounds)',
  '  readings   parse ms   appraise ms   ratio   without ms   ratio',
  ...rows.map(({ readings, parseMs, appraiseMs, medianMs }) =>
    [
      String(readings).padStart(10),
      parseMs.toFixed(1).padStart(11),
      appraiseMs.toFixed(1).padStart(14),
      (appraiseMs / parseMs).toFixed(2).padStart(8),
      medianMs.toFixed(1).padStart(13),
      (medianMs / parseMs).toFixed(2).padStart(8),
    ].join(''),
  ),
  `  exponent from ${rows[0]?.readings} to ${rows[rows.length - 1]?.readings} readings: ${exponent.toFixed(2)}`,
];
process.stdout.write(`${lines.join('\n')}\n`);

const misses: string[] = [];
const largest = rows[rows.length - 1];
for (const ms of largest ? [largest.appraiseMs, largest.medianMs] : []) {
  const ratio = ms / (largest?.parseMs ?? 1);
  if (ratio <= APPRAISE_OVER_PARSE) continue;
  misses.push(`appraise takes ${ratio.toFixed(2)} times as long as JSON.parse; the bar is ${APPRAISE_OVER_PARSE}`);
}
if (exponent > LARGEST_EXPONENT) misses.push(`the exponent is ${exponent.toFixed(2)}; the bar is ${LARGEST_EXPONENT}`);
for (const miss of misses) process.stderr.write(`Bar missed: ${miss}\n`);
process.exitCode = misses.length > 0 ? 1 : 0;
