import { cpus, totalmem } from 'node:os';
import { benchAppraise } from './appraise.bench';
import { benchEditToFrame } from './edit-to-frame.bench';
import { benchLineFit } from './line-fit.bench';
import { benchManySegments } from './many-segments.bench';
import { benchVoidResponse } from './void-response.bench';
import { benchVoidTest } from './void-test.bench';

/** Bars of this bench; ratios within one run, so that a slow machine does not fail them. */
const APPRAISE_OVER_PARSE = 5;
const LARGEST_EXPONENT = 1.1;
/** In a survey of 2,000 readings, drawn in software; the median of the rounds. */
const EDIT_TO_FRAME_MS = 100;
const OURS_OVER_BARE = 1.3;
/** 1,000 lines of 100 electrodes. */
const LINE_FIT_MS = 300;
/** A chamber of some 300 panels and more, 60 readings, from nothing. */
const VOID_RESPONSE_MS = 150;

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

const fit = benchLineFit();
process.stdout.write(
  `\nfit of ${fit.lines} lines: ${fit.fitMs.toFixed(0)} ms, ${fit.placedMs.toFixed(0)} ms with the places of 100 electrodes each; exponent ${fit.exponent.toFixed(2)}\n`,
);

const voids = benchVoidResponse();
const ladders = benchVoidTest();
process.stdout.write(
  `${[
    'void response of 60 readings, from nothing',
    ...voids.map(
      ({ name, panels, milliseconds }) => `  ${name}, ${panels.join('/')} panels: ${milliseconds.toFixed(0)} ms`,
    ),
    'ladders',
    ...ladders.map(({ name, milliseconds }) => `  ${name}: ${milliseconds.toFixed(0)} ms`),
  ].join('\n')}\n`,
);

const edits = await benchEditToFrame();
const sorted = [...edits.milliseconds].sort((p, q) => p - q);
const middle = sorted[sorted.length >> 1] ?? Number.NaN;
const quickest = sorted[0] ?? Number.NaN;
process.stdout.write(
  `\none edit of ${edits.readings} readings, from commit to the first frame with its colour: ${quickest.toFixed(0)} ms at best, ${middle.toFixed(0)} ms median of ${sorted.length}\n`,
);

// The quicker of two each: what else the machine does is no part of either page.
const rounds = [await benchManySegments(), await benchManySegments()];
const many = {
  segments: rounds[0]?.segments ?? 0,
  ours: Math.min(...rounds.map(({ ours }) => ours)),
  bare: Math.min(...rounds.map(({ bare }) => bare)),
};
const slower = many.ours / many.bare;
process.stdout.write(
  `${many.segments} segments to a map at rest: ${(many.ours / 1000).toFixed(1)} s, a bare map page ${(many.bare / 1000).toFixed(1)} s, ratio ${slower.toFixed(2)}\n`,
);

const misses: string[] = [];
if (slower > OURS_OVER_BARE) {
  misses.push(`the page takes ${slower.toFixed(2)} times as long as a bare map; the bar is ${OURS_OVER_BARE}`);
}
if (middle > EDIT_TO_FRAME_MS) {
  misses.push(`an edit takes ${middle.toFixed(0)} ms in the median to its frame; the bar is ${EDIT_TO_FRAME_MS} ms`);
}
if (fit.placedMs > LINE_FIT_MS) {
  misses.push(`fitting ${fit.lines} lines takes ${fit.placedMs.toFixed(0)} ms; the bar is ${LINE_FIT_MS} ms`);
}
if (fit.exponent > LARGEST_EXPONENT) misses.push(`the fit's exponent is ${fit.exponent.toFixed(2)}`);
const chamber = voids[0];
if (chamber && chamber.milliseconds > VOID_RESPONSE_MS) {
  misses.push(`${chamber.name} takes ${chamber.milliseconds.toFixed(0)} ms; the bar is ${VOID_RESPONSE_MS} ms`);
}
for (const { name, milliseconds, barMs } of ladders) {
  if (milliseconds > barMs) misses.push(`${name} takes ${milliseconds.toFixed(0)} ms; the bar is ${barMs} ms`);
}
const largest = rows[rows.length - 1];
for (const ms of largest ? [largest.appraiseMs, largest.medianMs] : []) {
  const ratio = ms / (largest?.parseMs ?? 1);
  if (ratio <= APPRAISE_OVER_PARSE) continue;
  misses.push(`appraise takes ${ratio.toFixed(2)} times as long as JSON.parse; the bar is ${APPRAISE_OVER_PARSE}`);
}
if (exponent > LARGEST_EXPONENT) misses.push(`the exponent is ${exponent.toFixed(2)}; the bar is ${LARGEST_EXPONENT}`);
for (const miss of misses) process.stderr.write(`Bar missed: ${miss}\n`);
process.exitCode = misses.length > 0 ? 1 : 0;
