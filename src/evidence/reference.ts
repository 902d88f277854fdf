import type { ReferenceBasis, ReferenceCurve, Settings } from '../findings';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import type { LineId, ReferenceId } from '../survey/ids';
import type { Reference, Wetting } from '../survey/survey';
import type { ReadingFigure } from './figure';
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
  stationCell,
} from './reference-curve';

/** The day of a reading: its outing, else the date of its time. */
const dayOf = ({ reading }: ReadingFigure): string => reading.outing ?? reading.time?.slice(0, 10) ?? '';
const wettingOf = ({ reading }: ReadingFigure): Wetting => reading.wetting ?? 'none';

/** A hookup that was not said is treated as two-probe, and so compared with two-probe readings. */
const familyOf = (hookup: Hookup): Hookup => (isTwoProbe(hookup) ? 'two_probe' : hookup);

const textOf = ({ hookup, day, wetting }: CurveKey): string => `${hookup}|${day ?? '*'}|${wetting ?? '*'}`;

/** A curve for each degree of sameness, the closest first. */
const keysOf = (hookup: Hookup, day: string, wetting: Wetting): readonly [CurveKey, ReferenceBasis][] => [
  [{ hookup, day, wetting }, 'same_day_and_wetting'],
  [{ hookup, day, wetting: null }, 'same_day_other_wetting'],
  [{ hookup, day: null, wetting: null }, 'other_day'],
];

export interface References {
  /** The level to compare a reading with; null = nothing comparable within reach. */
  levelFor(figure: ReadingFigure): Level | null;
  readonly curves: readonly ReferenceCurve[];
}

/**
 * The reference levels of a survey: robust over the stations of each reference, pooled per spacing, hookup, day and
 * wetting. Where a hookup has no reference at all, the site's own median per spacing stands in (5 stations at least).
 * Work is in ln of the figure.
 */
export function referencesOf(
  references: readonly Reference[],
  figures: readonly ReadingFigure[],
  settings: Settings,
): References {
  const built = builtFrom(references, figures);
  const covered = new Set(built.flatMap(({ curves }) => [...curves.values()].map(({ key }) => key.hookup)));
  const medians = siteMedians(figures, covered, settings.medianStations);
  return {
    levelFor: levelFinder(built, medians),
    curves: [...built.flatMap(({ curves }) => [...curves.values()]), ...medians.values()].map(published),
  };
}

interface BuiltReference {
  readonly serves: readonly LineId[] | null;
  readonly curves: ReadonlyMap<string, Curve>;
}

function builtFrom(references: readonly Reference[], figures: readonly ReadingFigure[]): readonly BuiltReference[] {
  const sets = references
    .filter((reference) => !reference.retired && reference.stations.length > 0)
    .map(({ id, serves, stations }) => ({
      ids: [id] as readonly ReferenceId[],
      serves: serves ?? null,
      stations,
      collected: new Map<string, { key: CurveKey; slots: Slots }>(),
    }));
  // By line first: most lines hold no reference station, and are passed over at once.
  const setsAt = new Map<string, Map<number, Set<(typeof sets)[number]>>>();
  for (const set of sets) {
    for (const { line, chainage_m: chainageM } of set.stations) {
      const onLine = setsAt.get(line) ?? new Map<number, Set<(typeof sets)[number]>>();
      setsAt.set(line, onLine);
      const centre = stationCell(chainageM);
      for (const cell of [centre - 1, centre, centre + 1]) {
        onLine.set(cell, (onLine.get(cell) ?? new Set()).add(set));
      }
    }
  }
  for (const figure of figures) {
    const onLine = setsAt.get(figure.reading.line);
    if (!onLine || figure.figureOhmM === null) continue;
    for (const { collected } of onLine.get(stationCell(figure.chainageM)) ?? []) {
      for (const [key] of keysOf(familyOf(figure.hookup), dayOf(figure), wettingOf(figure))) {
        const entry = collected.get(textOf(key)) ?? { key, slots: new Map() };
        collected.set(textOf(key), entry);
        collect(entry.slots, figure);
      }
    }
  }
  return sets.map(({ ids, serves, collected }) => ({
    serves,
    curves: new Map(
      Array.from(collected, ([text, { key, slots }]) => [text, curveFrom(key, slots, 'reference', ids, 1)] as const),
    ),
  }));
}

function siteMedians(
  figures: readonly ReadingFigure[],
  covered: ReadonlySet<Hookup>,
  fewest: number,
): ReadonlyMap<Hookup, Curve> {
  const slotsOf = new Map<Hookup, Slots>();
  for (const figure of figures) {
    const family = familyOf(figure.hookup);
    if (figure.figureOhmM === null || covered.has(family)) continue;
    let slots = slotsOf.get(family);
    if (!slots) {
      slots = new Map();
      slotsOf.set(family, slots);
    }
    collect(slots, figure);
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
  medians: ReadonlyMap<Hookup, Curve>,
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
    const median = medians.get(family);
    return [
      ...keysOf(family, day, wetting).flatMap(([curveKey, basis]) =>
        serving.flatMap(({ curves }) => {
          const curve = curves.get(textOf(curveKey));
          return curve ? [{ curve, basis }] : [];
        }),
      ),
      ...(median ? [{ curve: median, basis: 'site_median' as const }] : []),
    ];
  };

  return (figure) => {
    const { candidates, levels } = circumstancesOf(figure);
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
      })),
  };
}
