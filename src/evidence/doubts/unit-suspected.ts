import { chainageList, counted, metres, ohmMetres, shownText } from '../../survey/wording';
import type { ReadingFigure } from '../figure';
import { medianOf } from '../robust';
import { type DoubtContext, doubtAbout, type FindDoubts, type ScoredPlace } from './doubt-context';

/** A figure that stands this near (in decades) to a thousand times what is expected is doubted (choice). */
const NEAR_DECADES = 0.5;
const LEAST_LN = (3 - NEAR_DECADES) * Math.LN10;
const MOST_LN = (3 + NEAR_DECADES) * Math.LN10;
/** Places of one spacing whose median may stand in where there is no reference. */
const FEWEST_NEIGHBOURS = 3;
/** From this many on, all slips of one direction are told together. */
const MANY = 3;

interface Slip {
  readonly figure: ReadingFigure;
  readonly expectedOhmM: number;
}

const isSlip = (lnRatio: number): boolean => Math.abs(lnRatio) > LEAST_LN && Math.abs(lnRatio) < MOST_LN;

/** Kilo-ohms written down as ohms, or the other way: a figure about a thousand times off what is expected there. */
export const unitSuspected: FindDoubts = (context) => {
  const slips = slipsOf(context.places);
  return [true, false].flatMap((above) => {
    const found = slips.filter(({ figure, expectedOhmM }) => (figure.figureOhmM as number) > expectedOhmM === above);
    if (found.length >= MANY) return [told(context, found, above)];
    return found.map((slip) => told(context, [slip], above));
  });
};

function slipsOf(places: readonly ScoredPlace[]): readonly Slip[] {
  const slips: Slip[] = [];
  for (const scored of places) {
    const { counted: own } = scored.place;
    if (own.length === 0) continue;
    // Of a single reading its ratio says all, and nearly all are single.
    const { lnRatio, referenceOhmM } = scored.score;
    if (own.length === 1 && lnRatio !== null && !isSlip(lnRatio)) continue;
    const expectedOhmM = referenceOhmM ?? neighboursOhmM(scored, places);
    if (expectedOhmM === null) continue;
    for (const figure of own) {
      if (isSlip(Math.log((figure.figureOhmM as number) / expectedOhmM))) slips.push({ figure, expectedOhmM });
    }
  }
  return slips;
}

/** The median of the other places of this line, spacing and hookup; null with fewer than three. */
function neighboursOhmM({ place }: ScoredPlace, places: readonly ScoredPlace[]): number | null {
  const figures: number[] = [];
  // Places come sorted by hookup and spacing: its row lies on both sides of it.
  for (const step of [-1, 1]) {
    for (let i = place.index + step; ; i += step) {
      const other = places[i]?.place;
      if (!other || other.hookup !== place.hookup || other.spacingM !== place.spacingM) break;
      const [first] = other.counted;
      if (first && first.variant === place.counted[0]?.variant) figures.push(first.figureOhmM as number);
    }
  }
  return figures.length < FEWEST_NEIGHBOURS ? null : medianOf(figures);
}

function told({ line }: DoubtContext, slips: readonly Slip[], above: boolean) {
  const [{ figure, expectedOhmM }] = slips as [Slip, ...Slip[]];
  const { reading, chainageM, spacingM } = figure;
  const alone = slips.length === 1;
  const what = above ? 'above' : 'below';
  const where = alone
    ? `${metres(chainageM)}${spacingM === null ? '' : ` at spacing ${metres(spacingM)}`}: ${shownText(reading.value ?? 0, reading.unit)} comes to ${ohmMetres(figure.figureOhmM as number)}, about a thousand times ${what} the ${ohmMetres(expectedOhmM)} that is expected there`
    : `${counted(slips.length, 'reading')} (${chainageList(slips.map((slip) => slip.figure.chainageM))}) stand about a thousand times ${what} what is expected there`;
  return doubtAbout({
    code: 'unit_suspected',
    severity: 'serious',
    line: line.id,
    chainageM: alone ? chainageM : null,
    spacingM: alone ? spacingM : null,
    aspect: alone ? reading.id : what,
    sentence: `Line ${line.name}, ${where}: the unit may be another than the one written down.`,
    remedy: `Look in the notebook whether the meter showed ${above ? 'ohms where kilo-ohms are written down' : 'kilo-ohms where ohms are written down'}, and correct the unit of the reading.`,
    readings: slips.map((slip) => slip.figure.reading.id),
  });
}
