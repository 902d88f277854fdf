import { metres, ohmMetres } from '../../survey/wording';
import type { ReadingFigure } from '../figure';
import { type DoubtContext, doubtAbout, type FindDoubts, type ScoredPlace } from './doubt-context';

/** Repeats are compared among themselves only with the same rods in the same holes, on the same day, equally wet. */
const likeness = ({ reading }: ReadingFigure): string =>
  [reading.outing ?? '', reading.wetting ?? 'none', ...(reading.seatings ?? [])].join('|');

/**
 * How far apart honest repeats may lie, in standard errors: three times √2 for two of them, and more for more, so that
 * 0.1 to 0.3 % of honest groups of 2 to 15 are told off (200,000 simulated normal groups of each size).
 */
const allowedRange = (count: number): number => 3 * Math.SQRT2 + 0.95 * Math.log(count / 2);

export const repeatsDisagree: FindDoubts = (context) =>
  context.places
    .filter(({ place }) => place.counted.length > 1)
    .flatMap((scored) => likeGroups(scored).flatMap((group) => disagreement(scored, group, context)));

function likeGroups({ place }: ScoredPlace): readonly (readonly ReadingFigure[])[] {
  const groups = new Map<string, ReadingFigure[]>();
  for (const figure of place.counted) {
    const key = likeness(figure);
    groups.set(key, [...(groups.get(key) ?? []), figure]);
  }
  return [...groups.values()].filter((group) => group.length > 1);
}

function disagreement({ place }: ScoredPlace, group: readonly ReadingFigure[], context: DoubtContext) {
  const { line, settings } = context;
  const values = group.map((figure) => figure.figureOhmM as number);
  const low = Math.min(...values);
  const high = Math.max(...values);
  const stated = group[0]?.outing?.meter?.stated_error ?? 0;
  const sigma = Math.max(settings.standardErrorFloor, stated);
  if (Math.log(high / low) <= allowedRange(group.length) * sigma) return [];
  const at = place.spacingM === null ? '' : ` at spacing ${metres(place.spacingM)}`;
  return [
    doubtAbout({
      code: 'repeats_disagree',
      severity: 'warning',
      line: line.id,
      chainageM: place.chainageM,
      spacingM: place.spacingM,
      aspect: `${place.hookup}:${likeness(group[0] as ReadingFigure)}`,
      sentence: `Line ${line.name}, ${metres(place.chainageM)}${at}: ${group.length} repeats run from ${ohmMetres(low)} to ${ohmMetres(high)}, ${Math.round((high / low - 1) * 100)} % apart.`,
      remedy: 'Read it once more with the rods re-seated, and reject with a reason the one that does not stand.',
      readings: group.map(({ reading }) => reading.id),
    }),
  ];
}
