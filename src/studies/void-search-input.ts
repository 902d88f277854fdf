import { medianVariance } from '../evidence/robust';
import type { Findings, LineFindings, MidpointFinding, Settings } from '../findings';
import { soundLayers } from '../ground/layered-inversion';
import type { LayeredGround } from '../ground/layered-kernel';
import { nominalDistances } from '../ground/layout';
import { localPlane } from '../position/crs';
import { isTwoProbe } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Outing, Reading, Survey } from '../survey/survey';
import { ownSigmaOf } from './own-sigma';
import type { SearchLine, SearchPlace, SearchReading, VoidSearchInput } from './void-search-question';

export interface VoidSearchOptions {
  /** Above 0 and below 1; 0.05 when not said. */
  readonly falseAlarmRate?: number;
  /** 300 when not said. */
  readonly simulations?: number;
  readonly seed?: number;
}

/** Layers that the reference's ladder is taken to show: soil over rock (choice). */
const REFERENCE_LAYERS = 2;
/** A layered fit of the reference takes so many of its spacings; fewer are taken for uniform ground (choice). */
const FEWEST_LADDER = 3;
const USUAL = { falseAlarmRate: 0.05, simulations: 300, seed: 1 } as const;
/** Lines farther than this from the first are not in one plane with it (as places of a survey cluster). */
const FARTHEST_M = 5000;

/**
 * The lines as they were appraised, in a common plane, for the study `void-search`. Readings without a value, of two
 * probes, or whose electrodes have no known place are left out; those without a reference keep their null.
 * Refusals: `no_such_line`, `line_not_placed`, `two_probe_no_search` where a line has nothing else, `too_few_readings`
 * where it has none at all, `lines_too_far_apart`.
 */
export function voidSearchInputOf(
  survey: Survey,
  findings: Findings,
  lineIds: readonly LineId[],
  options: VoidSearchOptions = {},
): Outcome<VoidSearchInput> {
  const found: LineFindings[] = [];
  for (const lineId of lineIds) {
    const line = findings.lines.find((each) => each.lineId === lineId);
    if (line) {
      found.push(line);
      continue;
    }
    const unplaced = findings.unplaced.find((each) => each.lineId === lineId);
    if (unplaced) return refuse('line_not_placed', `Line ${unplaced.name} has no place yet: ${unplaced.sentence}`);
    return refuse('no_such_line', 'There is no such line here.');
  }
  const [corner] = found.flatMap(({ track }) => track);
  if (!corner) return refuse('no_such_line', 'Say which line to search: none was given.');
  const plane = localPlane(corner.lon, corner.lat);
  const readings = new Map<string, Reading>(survey.readings.map((reading) => [reading.id, reading]));
  const outings = new Map<string, Outing>(survey.outings.map((outing) => [outing.id, outing]));
  const lines: SearchLine[] = [];
  for (const line of found) {
    const own = line.midpoints.flatMap(
      (midpoint) => readingOf(line.name, midpoint, readings, outings, findings.provenance.settings) ?? [],
    );
    if (own.length === 0) return refuseEmpty(line);
    const places = line.track.map(({ chainageM, lon, lat }): SearchPlace => {
      const [xM, yM] = plane.toPlane(lon, lat);
      return { chainageM, xM, yM };
    });
    if (places.some(({ xM, yM }) => Math.hypot(xM, yM) > FARTHEST_M)) {
      return refuse(
        'lines_too_far_apart',
        `Line ${line.name} is over ${FARTHEST_M / 1000} km from line ${found[0]?.name}: no passage can be followed so far. Search it by itself.`,
      );
    }
    lines.push({ line: line.name, lineId: line.lineId, places, readings: own, referenceGround: groundOf(own) });
  }
  return done({
    lines,
    falseAlarmRate: options.falseAlarmRate ?? USUAL.falseAlarmRate,
    simulations: options.simulations ?? USUAL.simulations,
    seed: options.seed ?? USUAL.seed,
  });
}

function refuseEmpty({ name, midpoints }: LineFindings) {
  return midpoints.some(({ hookup }) => isTwoProbe(hookup))
    ? refuse(
        'two_probe_no_search',
        `Line ${name} has two-probe readings only: they read mostly the contact of the rods, which changes by more than any void does, so no void can be searched for in them.`,
      )
    : refuse('too_few_readings', `Line ${name} has no reading that can be searched: read it first.`);
}

function readingOf(
  line: string,
  midpoint: MidpointFinding,
  readings: ReadonlyMap<string, Reading>,
  outings: ReadonlyMap<string, Outing>,
  settings: Settings,
): SearchReading | null {
  const { key, hookup, spacingM, figureOhmM, aM, bM, mM, nM, referenceOhmM } = midpoint;
  if (isTwoProbe(hookup) || spacingM === null || figureOhmM === null) return null;
  if ((aM === null && bM === null) || (mM === null && nM === null)) return null;
  const layout = { a: aM, b: bM, m: mM, n: nM };
  const distances = Object.values(nominalDistances(layout)).map((distance) => distance.toFixed(2));
  const sigmaLn = ownSigmaOf(midpoint, readings, outings, settings);
  return {
    id: key,
    line,
    layout,
    apparentOhmM: figureOhmM,
    referenceOhmM,
    sigmaLn,
    referenceSigmaLn: referenceSigma(midpoint, sigmaLn),
    hookup,
    spacingM,
    group: [hookup, ...distances, referenceOhmM?.toPrecision(8) ?? 'none'].join(' '),
  };
}

/**
 * Standard error of ln(reference) by itself: what the score has joined is taken apart again into the reading's own error,
 * the scatter of the reference's stations, and that of their median. Never less than noise alone leaves.
 */
function referenceSigma({ referenceStations, ratio, ratioStandardError }: MidpointFinding, sigmaLn: number): number {
  const share = medianVariance(referenceStations ?? 1);
  const noise = sigmaLn * Math.sqrt(share);
  if (ratio === null || ratioStandardError === null) return noise;
  const joined = Math.max(0, (ratioStandardError / ratio) ** 2 - sigmaLn ** 2);
  return Math.max(noise, Math.sqrt((joined * share) / (1 + share)));
}

/** The layers of the reference's own ladder; one layer where it shows none or has too few spacings. */
function groundOf(readings: readonly SearchReading[]): LayeredGround {
  const groups = new Map<string, SearchReading>();
  for (const reading of readings) if (reading.referenceOhmM !== null) groups.set(reading.group, reading);
  const ladder = [...groups.values()];
  const of = ({ referenceOhmM, apparentOhmM }: SearchReading): number => referenceOhmM ?? apparentOhmM;
  const shown = ladder.length > 0 ? ladder : readings;
  if (new Set(ladder.map(({ spacingM }) => spacingM)).size >= FEWEST_LADDER) {
    const sounded = soundLayers({
      readings: ladder.map((reading) => ({
        hookup: reading.hookup,
        distances: nominalDistances(reading.layout),
        apparentOhmM: of(reading),
        relativeSigma: reading.referenceSigmaLn,
      })),
      fewestLayers: 1,
      mostLayers: REFERENCE_LAYERS,
    });
    if (sounded.ok) {
      const { resistivities, thicknesses } = sounded.value.model;
      return {
        resistivitiesOhmM: resistivities.map(({ value }) => value),
        thicknessesM: thicknesses.map(({ value }) => value),
      };
    }
  }
  const mean = shown.reduce((sum, reading) => sum + Math.log(of(reading)), 0) / shown.length;
  return { resistivitiesOhmM: [Math.exp(mean)], thicknessesM: [] };
}
