import { benchAppraise } from './appraise.bench';
import { benchEditToFrame } from './edit-to-frame.bench';
import { benchGeojsonOut } from './geojson-out.bench';
import { benchFeatures, benchTables } from './import.bench';
import { benchLineFit } from './line-fit.bench';
import { benchManySegments } from './many-segments.bench';
import { benchPack } from './pack.bench';
import { benchPageStart } from './page-start.bench';
import { atLeast, atMost, type BenchPart, exponent, megabytes, ms, percent, row, seconds, times } from './part';
import { benchSectionRates, benchSectionSolve, benchSectionTimes } from './section.bench';
import { benchVoidResponse } from './void-response.bench';
import { type BlindShare, benchVoidSearch, shareText } from './void-search.bench';
import { benchVoidTest } from './void-test.bench';

/*
 * What is measured, and the bars. Ratios are taken within one run, so that a slow machine does not fail them; bars in
 * seconds are generous and are told beside the machine.
 */

const LARGEST_EXPONENT = 1.1;

const appraise: BenchPart = {
  name: 'appraise',
  async run() {
    const bench = benchAppraise();
    const last = bench.rows[bench.rows.length - 1];
    if (!last) throw new Error('nothing was measured');
    return [
      atMost(`appraise of ${last.readings} readings over JSON.parse of them`, last.appraiseMs / last.parseMs, 5, times),
      atMost('the same without a reference', last.medianMs / last.parseMs, 5, times),
      atMost('growth of appraise from 1,000 readings', bench.exponent, LARGEST_EXPONENT, exponent),
      row('appraise', ms(last.appraiseMs)),
    ];
  },
};

const imports: BenchPart = {
  name: 'import',
  async run() {
    return [
      { name: 'readings', ...benchTables() },
      { name: 'karst features', ...benchFeatures() },
    ].flatMap(({ name, rows, parseMs, readMs, exponent: grown }) => [
      row(`${rows} rows of ${name} read and checked, over papaparse alone`, times(readMs / parseMs)),
      row(`the same in time`, ms(readMs)),
      atMost(`growth from ${rows / 100} rows`, grown, LARGEST_EXPONENT, exponent),
    ]);
  },
};

const lineFit: BenchPart = {
  name: 'line-fit',
  async run() {
    const fit = benchLineFit();
    return [
      atMost(`${fit.lines} lines fitted, places of 100 electrodes each`, fit.placedMs, 300, ms),
      atMost('growth of the fit', fit.exponent, LARGEST_EXPONENT, exponent),
    ];
  },
};

const voids: BenchPart = {
  name: 'void',
  async run() {
    const [chamber, ...others] = benchVoidResponse();
    if (!chamber) throw new Error('nothing was measured');
    return [
      atMost(
        `void response, ${chamber.name}, ${chamber.panels.join('/')} panels, 60 readings`,
        chamber.milliseconds,
        150,
        ms,
      ),
      ...others.map(({ name, panels, milliseconds }) =>
        row(`void response, ${name}, ${panels.join('/')} panels`, ms(milliseconds)),
      ),
      ...benchVoidTest().map(({ name, milliseconds, barMs }) => atMost(name, milliseconds, barMs, ms)),
    ];
  },
};

const section: BenchPart = {
  name: 'section',
  async run(quick) {
    const solve = benchSectionSolve();
    return [
      ...benchSectionTimes().flatMap(({ name, readings, cells, seconds: taken, barSeconds, megabytes: held }) => [
        atMost(`section ${name}: ${readings} readings, ${cells} cells`, taken, barSeconds, seconds),
        row(`memory of section ${name}`, megabytes(held)),
      ]),
      row(`factor and 8 solves over a dense Cholesky (ml-matrix)`, times(solve.ours / solve.dense)),
      ...benchSectionRates(quick ? 10 : 200).flatMap(({ name, seeds, found, invented }) => [
        row(`${name}, ${seeds} seeds: depth within 25 % and one station`, percent(found)),
        row(`${name}: more than 1.3 over even ground`, percent(invented)),
      ]),
    ];
  },
};

const shareOf = ({ hits, tries }: BlindShare): number => hits / Math.max(1, tries);

const search: BenchPart = {
  name: 'search',
  async run(quick) {
    const blind = benchVoidSearch(quick ? 60 : 600, quick ? 30 : 300);
    return [
      atMost('search of a line of 24 × 6, from nothing', blind.oneSearchMs / 1000, 10, seconds),
      { ...atMost('', shareOf(blind.falseAlarms), 0.05, percent), what: shareText(blind.falseAlarms) },
      { ...atLeast('', shareOf(blind.found), 0.8, percent), what: shareText(blind.found) },
      { ...atLeast('', shareOf(blind.depthCovered), 0.9, percent), what: shareText(blind.depthCovered) },
      atMost(
        'the same, from above: ranges that are too wide say too little',
        shareOf(blind.depthCovered),
        0.98,
        percent,
      ),
      ...[
        blind.falseVoidLike,
        ...blind.foundByDepth,
        blind.foundVoidLike,
        blind.radiusCovered,
        blind.chainageCovered,
      ].map((share) => row(shareText(share), percent(shareOf(share)))),
    ];
  },
};

const map: BenchPart = {
  name: 'map',
  async run(quick) {
    const edits = await benchEditToFrame();
    const median = (values: readonly number[]): number =>
      [...values].sort((p, q) => p - q)[values.length >> 1] ?? Number.NaN;
    const sizes = quick ? [100] : [100, 1000];
    const rows = [
      atMost(`an edit of ${edits.readings} readings to its frame, median`, median(edits.milliseconds), 100, ms),
      row('of it, the map library handed the same segments, to its frame', ms(median(edits.libraryMs))),
    ];
    for (const lines of sizes) {
      // The quicker of two each: what else the machine does is no part of either page.
      const rounds = [await benchManySegments(lines), await benchManySegments(lines)];
      const ours = Math.min(...rounds.map((round) => round.ours));
      const bare = Math.min(...rounds.map((round) => round.bare));
      const segments = rounds[0]?.segments ?? 0;
      // Of a small survey the page itself weighs more than its segments: only the large one has a bar.
      const what = `${segments} segments to a map at rest, over a bare map page`;
      rows.push(lines === 1000 ? atMost(what, ours / bare, 1.3, times) : row(what, times(ours / bare)));
      rows.push(row('the same in time', seconds(ours / 1000)));
    }
    return rows;
  },
};

const start: BenchPart = {
  name: 'start',
  async run() {
    const page = await benchPageStart();
    return [
      row(`first visit to a map at rest, processor slowed × ${page.slowed}`, seconds(page.coldMs / 1000)),
      atMost('second visit, likewise', page.warmMs / 1000, 5, seconds),
      row('scripts and styles before anything shows, zipped', `${page.firstKB.toFixed(0)} kB`),
      row('everything that the page can load, zipped', `${page.wholeKB.toFixed(0)} kB`),
      row(`heap of the page with ${page.readings} readings`, megabytes(page.heapMB)),
    ];
  },
};

const handover: BenchPart = {
  name: 'handover',
  async run(quick) {
    const out = benchGeojsonOut();
    const pack = benchPack(quick ? 100 : 1000);
    return [
      atLeast(`${out.segments} segments as GeoJSON, rate over JSON.stringify of them`, out.rate, 0.5, times),
      atLeast('the same, its bytes kept for a download', out.rateKept, 0.5, times),
      atMost(`pack of ${pack.segments} segments, processor`, pack.seconds, 60, seconds),
      atMost('memory of the process that packs them', pack.megabytes, 600, megabytes),
      row('the zip', megabytes(pack.zipMegabytes)),
    ];
  },
};

export const PARTS: readonly BenchPart[] = [appraise, imports, lineFit, voids, map, start, handover, section, search];
