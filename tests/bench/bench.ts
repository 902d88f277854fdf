import { cpus, totalmem } from 'node:os';
import { benchAppraise } from './appraise.bench';
import { benchEditToFrame } from './edit-to-frame.bench';
import { benchLineFit } from './line-fit.bench';
import { benchManySegments } from './many-segments.bench';
import { benchSectionRates, benchSectionSolve, benchSectionTimes } from './section.bench';
import { benchVoidResponse } from './void-response.bench';
import { benchVoidSearch, shareText } from './void-search.bench';
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
/** A line of 24 stations and 6 spacings, table of voids and simulations included. */
const VOID_SEARCH_MS = 10_000;
/** Blind surveys without and with a passage, and seeds of the blind sections; fewer with `--quick`. */
const quick = process.argv.includes('--quick');
const BLIND = quick ? { without: 60, withVoid: 30, sections: 10 } : { without: 600, withVoid: 300, sections: 200 };
const FALSE_ALARMS = 0.05;
const FOUND = 0.8;
const DEPTH_COVERED = [0.9, 0.98] as const;

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

const sections = benchSectionTimes();
const solve = benchSectionSolve();
process.stdout.write(
  `${[
    'sections, readings over a passage to cells',
    ...sections.map(
      ({ name, readings, cells, iterations, seconds, megabytes }) =>
        `  ${name}: ${readings} readings, ${cells} cells, ${iterations} steps, ${seconds.toFixed(1)} s, ${megabytes.toFixed(0)} MB`,
    ),
    `  one wavenumber, factor and 8 right-hand sides: ${solve.ours.toFixed(1)} ms, ml-matrix's dense Cholesky of the same matrix ${solve.dense.toFixed(0)} ms, ratio ${(solve.ours / solve.dense).toFixed(4)}`,
  ].join('\n')}\n`,
);
const blind = benchVoidSearch(BLIND.without, BLIND.withVoid);
process.stdout.write(
  `${[
    'search of blind lines (Clopper & Pearson 95 %)',
    ...[
      blind.falseAlarms,
      blind.falseVoidLike,
      blind.found,
      ...blind.foundByDepth,
      blind.foundVoidLike,
      blind.depthCovered,
      blind.radiusCovered,
      blind.chainageCovered,
    ].map((share) => `  ${shareText(share)}`),
    `  one line of 24 × 6, from nothing: ${blind.oneSearchMs.toFixed(0)} ms`,
    'sections of blind lines',
    ...benchSectionRates(BLIND.sections).map(
      ({ name, seeds, found, invented }) =>
        `  ${name}, ${seeds} seeds: middle within 25 % of the depth and one station ${(100 * found).toFixed(0)} %, more than 1.3 over even ground ${(100 * invented).toFixed(1)} %`,
    ),
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
for (const { name, seconds, barSeconds } of sections) {
  if (seconds > barSeconds) misses.push(`${name} takes ${seconds.toFixed(1)} s; the bar is ${barSeconds} s`);
}
if (blind.oneSearchMs > VOID_SEARCH_MS) {
  misses.push(`a search takes ${(blind.oneSearchMs / 1000).toFixed(1)} s; the bar is ${VOID_SEARCH_MS / 1000} s`);
}
const shareOf = ({ hits, tries }: { hits: number; tries: number }): number => hits / Math.max(1, tries);
if (shareOf(blind.falseAlarms) > FALSE_ALARMS) misses.push(shareText(blind.falseAlarms));
if (shareOf(blind.found) < FOUND) misses.push(shareText(blind.found));
const covered = shareOf(blind.depthCovered);
if (covered < DEPTH_COVERED[0] || covered > DEPTH_COVERED[1]) misses.push(shareText(blind.depthCovered));
const largest = rows[rows.length - 1];
for (const ms of largest ? [largest.appraiseMs, largest.medianMs] : []) {
  const ratio = ms / (largest?.parseMs ?? 1);
  if (ratio <= APPRAISE_OVER_PARSE) continue;
  misses.push(`appraise takes ${ratio.toFixed(2)} times as long as JSON.parse; the bar is ${APPRAISE_OVER_PARSE}`);
}
if (exponent > LARGEST_EXPONENT) misses.push(`the exponent is ${exponent.toFixed(2)}; the bar is ${LARGEST_EXPONENT}`);
for (const miss of misses) process.stderr.write(`Bar missed: ${miss}\n`);
process.exitCode = misses.length > 0 ? 1 : 0;
