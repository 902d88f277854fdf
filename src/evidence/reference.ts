import type { ReferenceBasis, ReferenceCurve, Settings } from '../findings';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import type { Reference, Wetting } from '../survey/survey';
import type { ReadingFigure } from './figure';
import type { Place } from './place';
import {
  type Curve,
  type CurveKey,
  collect,
  curveFrom,
  type Level,
  levelOn,
  type SlotKey,
  type Slots,
  slotOf,
} from './reference-curve';
import { medianOf, medianVariance, moreToHalve } from './robust';

/** The day of a reading: its outing, else the date of its time. */
const dayOf = ({ outing, reading }: ReadingFigure): string => outing?.id ?? reading.time?.slice(0, 10) ?? '';
const wettingOf = ({ reading }: ReadingFigure): Wetting => reading.wetting ?? 'none';

/** A hookup that was not said is treated as two-probe, and so compared with two-probe readings. */
const familyOf = (hookup: Hookup): Hookup => (isTwoProbe(hookup) ? 'two_probe' : hookup);

const textOf = ({ hookup, day, wetting }: CurveKey): string => `${hookup}|${day ?? '*'}|${wetting ?? '*'}`;

/** A curve for each degree of sameness, the closest first. */
const keysOf = (hookup: Hookup, day: string, wetting: Wetting): readonly [CurveKey, ReferenceBasis][] => [
  [{ hookup, day, wetting }, 'same_day_and_wetting'],
  [{ hookup, day, wetting: null }, 'same_day_other_wetting'],
  [{ hookup, day: null, wetting }, 'other_day'],
  [{ hookup, day: null, wetting: null }, 'other_day_and_wetting'],
];

const lnOf = (figure: ReadingFigure): number => Math.log(figure.figureOhmM as number);

export interface References {
  /** The level to compare a reading with; null = nothing comparable within reach. */
  levelFor(figure: ReadingFigure): Level | null;
  /** The curves that were in use, once all levels have been asked for. */
  curves(): readonly ReferenceCurve[];
  /** Whether the site's median was asked for. It depends on every line. */
  usesMedian(): boolean;
  /** Has the site's median made now, whether it will be asked for or not. */
  makeMedian(): void;
}

/** Where the figures of a survey come from, line by line: they are made again when asked for, not kept. */
export interface FigureSource {
  readonly lines: readonly LineId[];
  placesOf(line: LineId): readonly Place[];
}

/**
 * The reference levels of a survey: robust over the stations of each reference, pooled per spacing, hookup, day and
 * wetting. Where no reference reaches, the site's own median per spacing stands in (5 stations at least).
 * Work is in ln of the figure.
 */
export function referencesOf(references: readonly Reference[], source: FigureSource, settings: Settings): References {
  const built = references
    .filter((reference) => !reference.retired && reference.stations.length > 0)
    .map((reference) => builtFrom(reference, source));
  let medians: ReadonlyMap<Hookup, Curve> | null = null;
  // Only asked for where no reference reaches: it takes a look at every reading of the site.
  const mediansOf = (): ReadonlyMap<Hookup, Curve> => {
    medians ??= siteMedians(source, settings.medianStations);
    return medians;
  };
  return {
    levelFor: levelFinder(built, mediansOf),
    usesMedian: () => medians !== null,
    makeMedian: () => void mediansOf(),
    curves: () => [
      ...built.flatMap(({ curves }) => [...curves.values()].map(published)),
      ...Array.from(medians?.values() ?? [], published),
    ],
  };
}

interface BuiltReference {
  readonly serves: readonly LineId[] | null;
  readonly curves: ReadonlyMap<string, Curve>;
}

/** A reference station is a peg: readings within this of it belong to it. */
const STATION_REACH_M = 0.05;

function builtFrom({ id, serves, stations }: Reference, source: FigureSource): BuiltReference {
  const collected = new Map<string, { key: CurveKey; slots: Slots }>();
  const lines = new Set(stations.map(({ line }) => line));
  for (const line of source.lines) {
    if (!lines.has(line)) continue;
    const pegs = stations.filter((station) => station.line === line).map((station) => station.chainage_m);
    for (const place of source.placesOf(line)) {
      if (!pegs.some((peg) => Math.abs(peg - place.chainageM) <= STATION_REACH_M)) continue;
      collectStation(collected, place);
    }
  }
  return {
    serves: serves ?? null,
    curves: new Map(
      Array.from(collected, ([text, { key, slots }]) => [text, curveFrom(key, slots, 'reference', [id], 1)] as const),
    ),
  };
}

/** One station into every curve that its readings belong to, its repeats there pooled. */
function collectStation(collected: Map<string, { key: CurveKey; slots: Slots }>, place: Place): void {
  const [first] = place.counted;
  if (!first) return;
  const pooled = new Map<string, { key: CurveKey; lnFigures: number[] }>();
  for (const figure of place.counted) {
    for (const [key] of keysOf(familyOf(figure.hookup), dayOf(figure), wettingOf(figure))) {
      const text = textOf(key);
      const entry = pooled.get(text) ?? { key, lnFigures: [] };
      pooled.set(text, entry);
      entry.lnFigures.push(lnOf(figure));
    }
  }
  for (const [text, { key, lnFigures }] of pooled) {
    const curve = collected.get(text) ?? { key, slots: new Map() };
    collected.set(text, curve);
    collect(curve.slots, first, medianOf(lnFigures));
  }
}

function siteMedians(source: FigureSource, fewest: number): ReadonlyMap<Hookup, Curve> {
  const slotsOf = new Map<Hookup, Slots>();
  for (const line of source.lines) {
    for (const { hookup, counted } of source.placesOf(line)) {
      const [first] = counted;
      if (!first) continue;
      const family = familyOf(hookup);
      const slots = slotsOf.get(family) ?? new Map();
      slotsOf.set(family, slots);
      const lnFigure = counted.length === 1 ? lnOf(first) : medianOf(counted.map(lnOf));
      collect(slots, first, lnFigure);
    }
  }
  return new Map(
    Array.from(slotsOf, ([hookup, slots]) => [
      hookup,
      curveFrom({ hookup, day: null, wetting: null }, slots, 'site_median', [], fewest),
    ]),
  );
}

/** What readings share that are compared with the same curves, and the levels found for them so far. */
interface Circumstances {
  readonly line: LineId;
  readonly hookup: Hookup;
  readonly day: string;
  readonly wetting: Wetting;
  readonly candidates: readonly { readonly curve: Curve; readonly basis: ReferenceBasis }[];
  readonly levels: Map<SlotKey, Level | null>;
}

function levelFinder(
  built: readonly BuiltReference[],
  mediansOf: () => ReadonlyMap<Hookup, Curve>,
): (figure: ReadingFigure) => Level | null {
  const known = new Map<string, Circumstances>();
  let last: Circumstances | null = null;

  const circumstancesOf = (figure: ReadingFigure): Circumstances => {
    const { hookup, reading } = figure;
    const { line } = reading;
    const day = dayOf(figure);
    const wetting = wettingOf(figure);
    if (last && last.line === line && last.hookup === hookup && last.day === day && last.wetting === wetting)
      return last;
    const key = `${line}|${hookup}|${day}|${wetting}`;
    last = known.get(key) ?? {
      line,
      hookup,
      day,
      wetting,
      candidates: candidatesFor(line, hookup, day, wetting),
      levels: new Map(),
    };
    known.set(key, last);
    return last;
  };

  const candidatesFor = (line: LineId, hookup: Hookup, day: string, wetting: Wetting): Circumstances['candidates'] => {
    const family = familyOf(hookup);
    // A reference that names the lines it serves goes before one that serves all.
    const serving = [...built.filter(({ serves }) => serves?.includes(line)), ...built.filter(({ serves }) => !serves)];
    return [
      ...keysOf(family, day, wetting).flatMap(([curveKey, basis]) =>
        serving.flatMap(({ curves }) => {
          const curve = curves.get(textOf(curveKey));
          return curve ? [{ curve, basis }] : [];
        }),
      ),
    ];
  };

  return (figure) => {
    const { candidates, levels, hookup } = circumstancesOf(figure);
    const slot = slotOf(figure);
    const found = levels.get(slot);
    if (found !== undefined) return found;
    let level: Level | null = null;
    for (const { curve, basis } of candidates) {
      const on = levelOn(curve, figure);
      if (!on) continue;
      level = { lnFigure: on.lnFigure, scatterLn: on.scatterLn, stations: on.stations, basis };
      break;
    }
    if (!level) {
      const median = mediansOf().get(familyOf(hookup));
      const on = median ? levelOn(median, figure) : null;
      if (on) level = { lnFigure: on.lnFigure, scatterLn: on.scatterLn, stations: on.stations, basis: 'site_median' };
    }
    levels.set(slot, level);
    return level;
  };
}

function published(curve: Curve): ReferenceCurve {
  return {
    references: curve.references,
    hookup: curve.key.hookup,
    day: curve.key.day,
    wetting: curve.key.wetting,
    kind: curve.kind,
    points: [...curve.exact.values()]
      .sort((p, q) => (p.spacingM ?? 0) - (q.spacingM ?? 0))
      .map(({ spacingM, lnFigure, scatterLn, stations }) => ({
        spacingM,
        figureOhmM: Math.exp(lnFigure),
        scatterLn,
        stations,
        standardErrorLn: scatterLn * Math.sqrt(medianVariance(stations)),
        moreStationsToHalve: moreToHalve(stations),
      })),
  };
}
