import { counted, metres, nameList, significant } from '../survey/wording';
import type { SectionResult } from './section';
import type { FindableVoid, RangeM, VoidCandidate, VoidSearchResult } from './void-search-answer';

/**
 * Coverage from which on a cell of a section is spoken of (choice): by itself a cell is little known, but smooth ground
 * joins it with its neighbours; at the depth that the readings are said to reach it is about this.
 */
export const KNOWN_COVERAGE = 0.05;

const NO_PROOF = 'A void may be no more than a blur in it, or nothing.';

/** What a section says, in sentences. */
export function sectionWords(result: SectionResult): readonly string[] {
  const { cells, readings, depthLimitM, chiSquarePerReading, iterations, converged, downWeighted } = result;
  const known = cells
    .filter(({ coverage }) => coverage >= KNOWN_COVERAGE)
    .map(({ resistivityOhmM }) => resistivityOhmM);
  const range =
    known.length > 0
      ? `From ${significant(Math.min(...known), 2)} to ${significant(Math.max(...known), 2)} Ω·m where the readings say enough. `
      : 'The readings say little of any part of it. ';
  const fit = `χ²\u00a0${chiSquarePerReading.toFixed(1)} per reading after ${counted(iterations, 'step')}`;
  const away = new Set(downWeighted);
  const places = readings.filter(({ id }) => away.has(id)).map(({ chainageM }) => metres(chainageM));
  return [
    `${range}${counted(readings.length, 'reading')}, down to ${metres(Number(depthLimitM.toFixed(1)))}; below that nothing should be read.`,
    converged
      ? `It explains the readings within their errors (${fit}).`
      : `It does not explain the readings within their errors (${fit}).`,
    ...(places.length > 0
      ? [
          `${counted(places.length, 'reading')} that no section explains ${places.length === 1 ? 'counts' : 'count'} for less: at ${nameList([...new Set(places)])}.`,
        ]
      : []),
    NO_PROOF,
  ];
}

const about = (value: number): string => significant(value, 2);

/** "18.7 m (18.1 to 19.4)"; an end that the search itself set is not called one. */
function rangeWords({ best, low95, high95, openLow, openHigh }: RangeM, text: (value: number) => string): string {
  const [low, high] = [text(low95), text(high95)];
  if (openLow && openHigh) return `${text(best)} m (not narrowed down)`;
  if (openLow) return `${text(best)} m (at most ${high})`;
  if (openHigh) return `${text(best)} m (at least ${low})`;
  return `${text(best)} m (${low} to ${high})`;
}

const decimetre = (value: number): string => String(Number(value.toFixed(1)));

/** Where a candidate lies and how large it is, with 95 % ranges. */
export function candidatePlace({ crossings, kind, depthM, radiusM }: VoidCandidate): string {
  const middle = kind === 'passage' ? 'axis' : 'centre';
  const under = crossings.map(({ line, chainageM }) => `line ${line} at ${rangeWords(chainageM, decimetre)}`);
  return `${kind === 'passage' ? 'Passage' : 'Chamber'} under ${nameList(under)}, ${middle} ${rangeWords(depthM, decimetre)} down, radius ${rangeWords(radiusM, about)}.`;
}

/** What a search along a line found, and what it could have found, in sentences. */
export function searchWords(result: VoidSearchResult): readonly string[] {
  const { lines, candidates, falseAlarmRate, findable } = result;
  const where = lines.length === 1 ? `line ${lines[0]}` : `lines ${nameList(lines)}`;
  const rate = `${significant(100 * falseAlarmRate, 2)} %`;
  return [
    candidates.length === 0
      ? `Nothing under ${where} changes the readings as a void would beyond what scatter and uneven soil do (ordinary ground would give an alarm on ${rate} of such searches).`
      : `${counted(candidates.length, 'place')} under ${where} ${candidates.length === 1 ? 'changes' : 'change'} the readings more than scatter and uneven soil do (ordinary ground would give an alarm on ${rate} of such searches).`,
    ...findableWords(findable),
    'No candidate is no proof of sound ground.',
  ];
}

/** Depths of the findable voids that are told, as many as fit into a sentence each. */
const DEPTHS_TOLD = 3;

function findableWords(findable: readonly FindableVoid[]): readonly string[] {
  const depths = [...new Set(findable.map(({ depthM }) => depthM))].sort((p, q) => p - q);
  const every = Math.max(1, Math.ceil(depths.length / DEPTHS_TOLD));
  return depths.filter((_, i) => i % every === 0).map((depth) => findableAt(findable, depth));
}

/** "2 m down the smallest found with 80 % is a passage of radius 0.8 to 1.4 m, a chamber of 1.2 m along 40 % of the line." */
function findableAt(findable: readonly FindableVoid[], depth: number): string {
  const here = findable.filter(({ depthM }) => depthM === depth);
  const told = (['passage', 'chamber'] as const).flatMap((kind) => {
    const size = findableSize(here.filter((place) => place.kind === kind));
    return size === null ? [] : [`a ${kind} of radius ${size}`];
  });
  const place = `${metres(Number(depth.toFixed(1)))} down`;
  if (told.length === 0) return `${place} no void that was tried would have been found.`;
  return `${place} the smallest found with 80 % is ${told.join(', ')}.`;
}

/** Range of the radii, and how much of the line they hold for; null where nothing would have been found. */
export function findableSize(places: readonly FindableVoid[], unit = ' m'): string | null {
  const radii = places.flatMap(({ radiusM }) => (radiusM === null ? [] : [radiusM]));
  if (radii.length === 0) return null;
  const [least, most] = [Math.min(...radii), Math.max(...radii)].map((radius) => significant(radius, 2));
  const share = Math.round((100 * radii.length) / places.length);
  return `${least === most ? least : `${least} to ${most}`}${unit}${share === 100 ? '' : ` along ${share} % of the line`}`;
}
