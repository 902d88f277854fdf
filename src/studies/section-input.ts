import type { Findings, LineFindings, MidpointFinding } from '../findings';
import type { Layout } from '../ground/layout';
import { type Hookup, isTwoProbe } from '../survey/hookup';
import { done, type Outcome, refuse } from '../survey/outcome';
import type { Outing, Reading, Survey } from '../survey/survey';
import { ownSigmaOf } from './own-sigma';

/** A reading of the section: one place, spacing and hookup, its repeats pooled. */
export interface SectionReading {
  /** The first of the readings that are pooled in it. */
  readonly id: string;
  /** Chainages along the ground line. */
  readonly layout: Layout;
  readonly apparentOhmM: number;
  /** Standard error of ln(apparent resistivity), never under the floor that is set. */
  readonly sigmaLn: number;
}

/** Everything that the study `section` is computed from: plain data, so that its hash names the result. */
export interface SectionInput {
  readonly line: string;
  /** The hookups of its readings, in the order of the record. */
  readonly hookups: readonly Hookup[];
  readonly readings: readonly SectionReading[];
  /** Heights of the ground by chainage, growing; none = flat. */
  readonly heights: readonly { readonly chainageM: number; readonly elevationM: number }[];
  /** Readings of the line that the section does not use, each with the reason. */
  readonly leftOut: readonly { readonly id: string; readonly sentence: string }[];
  /** Whether readings that no section explains are weighted down. */
  readonly robust: boolean;
}

export interface SectionInputOptions {
  /** Only this hookup; all but two-probe together when not said. */
  readonly hookup?: Hookup | null;
  /** True when not said. */
  readonly robust?: boolean;
}

/** Fewer readings than this are a ladder or two, not a section (choice). */
const FEWEST_READINGS = 8;
/** Midpoints must stand at so many chainages at least (choice). */
const FEWEST_STATIONS = 3;

const NO_SECTION_FROM_TWO_PROBES =
  'No section can be made from two-probe readings: with current and potential on the same two rods the meter reads mostly the contact of the rods, which grows with spacing over perfectly ordinary ground. There is no resistivity in it.';

/**
 * The readings of a line as they were appraised, for a section. Two-probe readings are never used.
 * Refusals: `no_such_line`, `line_not_placed`, `two_probe_no_section` where the line has nothing else or it was asked for,
 * `too_few_readings`.
 */
export function sectionInputOf(
  survey: Survey,
  findings: Findings,
  lineId: string,
  options: SectionInputOptions = {},
): Outcome<SectionInput> {
  const line = findings.lines.find((each) => each.lineId === lineId);
  if (!line) {
    const unplaced = findings.unplaced.find((each) => each.lineId === lineId);
    if (unplaced) return refuse('line_not_placed', `Line ${unplaced.name} has no place yet: ${unplaced.sentence}`);
    return refuse('no_such_line', 'There is no such line here.');
  }
  const asked = options.hookup ?? null;
  if (asked !== null && isTwoProbe(asked)) return refuse('two_probe_no_section', NO_SECTION_FROM_TWO_PROBES);
  const byId = new Map<string, Reading>(survey.readings.map((reading) => [reading.id, reading]));
  const outings = new Map<string, Outing>(survey.outings.map((outing) => [outing.id, outing]));
  const { settings } = findings.provenance;
  const readings: SectionReading[] = [];
  const leftOut: { id: string; sentence: string }[] = [];
  const hookups: Hookup[] = [];
  const stations = new Set<number>();
  for (const midpoint of line.midpoints) {
    const [id = ''] = midpoint.readings;
    const reason = whyNot(midpoint, asked);
    if (reason !== null) {
      leftOut.push({ id, sentence: reason });
      continue;
    }
    const { aM, bM, mM, nM, figureOhmM } = midpoint;
    readings.push({
      id,
      layout: { a: aM, b: bM, m: mM, n: nM },
      apparentOhmM: figureOhmM as number,
      sigmaLn: ownSigmaOf(midpoint, byId, outings, settings),
    });
    stations.add(Math.round(100 * midpoint.chainageM));
    if (!hookups.includes(midpoint.hookup)) hookups.push(midpoint.hookup);
  }
  if (readings.length < FEWEST_READINGS || stations.size < FEWEST_STATIONS) {
    const twoProbe = line.midpoints.some(({ hookup }) => isTwoProbe(hookup));
    if (readings.length === 0 && twoProbe) return refuse('two_probe_no_section', NO_SECTION_FROM_TWO_PROBES);
    return refuse(
      'too_few_readings',
      `A section takes ${FEWEST_READINGS} readings at ${FEWEST_STATIONS} midpoints or more; line ${line.name} has ${readings.length} at ${stations.size}${twoProbe ? ' beside its two-probe readings, which cannot be used' : ''}.`,
    );
  }
  return done({
    line: line.name,
    hookups,
    readings,
    heights: heightsOf(survey, line),
    leftOut,
    robust: options.robust ?? true,
  });
}

function whyNot({ hookup, figureOhmM, aM, bM, mM, nM }: MidpointFinding, asked: Hookup | null): string | null {
  if (isTwoProbe(hookup)) return 'It is a two-probe reading: mostly contact, no resistivity.';
  if (asked !== null && hookup !== asked) return 'It is of another hookup than asked for.';
  if (figureOhmM === null) return 'It has no value: over range, or rejected.';
  if ((aM === null && bM === null) || (mM === null && nM === null)) return 'Where its electrodes stood is not known.';
  return null;
}

/** The line's own profile with the heights of its electrodes; none unless two are known. */
function heightsOf(survey: Survey, line: LineFindings): SectionInput['heights'] {
  const heights = new Map<number, number>();
  for (const { role, chainageM, elevationM } of line.electrodes) {
    if (role === 'remote' || chainageM === null || elevationM === null) continue;
    heights.set(chainageM, elevationM);
  }
  // Heights that cannot be walked are in no electrode's place either.
  if (heights.size === 0) return [];
  const profile = survey.lines.find(({ id }) => id === line.lineId)?.profile ?? [];
  for (const { chainage_m, height_m } of profile) heights.set(chainage_m, height_m);
  if (heights.size < 2) return [];
  return [...heights].sort(([p], [q]) => p - q).map(([chainageM, elevationM]) => ({ chainageM, elevationM }));
}
