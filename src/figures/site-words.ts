import { HOOKUP_LABEL } from '../survey/hookup';
import { counted, metres, ohmMetres, ratioText } from '../survey/wording';
import { lineName } from './mark-words';
import { farFrom, type SiteData, type SiteLine, type SiteMedian, type Standing } from './site-data';

export const bandWords = ({ ownMedian }: SiteData): string =>
  ownMedian ? 'median of the site ± its scatter' : 'reference ± its scatter';

export const siteTitle = ({ hookup }: SiteData): string => `The lines against their reference, ${HOOKUP_LABEL[hookup]}`;

const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  above: 'above the scatter',
  within: 'within the scatter',
  below: 'below the scatter',
  not_compared: 'compared with nothing',
};

export const titled = ({ name }: SiteLine): string => lineName(name).replace(/^l/, 'L');

/** "2 m: 450 Ω·m, 1.01 times its reference, within the scatter (35 places)". */
export function medianWords({ spacingM, figureOhmM, ratio, standing, places }: SiteMedian): string {
  const times = ratio === null ? '' : `, ${ratioText(ratio)} times its reference`;
  return `${metres(spacingM)}: ${ohmMetres(figureOhmM)}${times}, ${STANDING_WORDS[standing]} (${counted(places, 'place')})`;
}

/** So many are told one by one. */
const MOST_TOLD = 12;

export function siteSummary(data: SiteData): string {
  const kind = data.twoProbe
    ? 'Medians of two-probe figures, mostly the contact of the rods, against spacing'
    : 'Medians of apparent resistivity against spacing';
  const told = [...data.lines]
    .sort((p, q) => farFrom(q) - farFrom(p))
    .slice(0, MOST_TOLD)
    .map((line) => {
      const times = line.times === null ? '' : `, ${ratioText(line.times)} times its reference`;
      return `${titled(line)}${times}: ${line.medians.map(medianWords).join('; ')}.`;
    });
  const more = data.lines.length > told.length ? ` And ${counted(data.lines.length - told.length, 'more line')}.` : '';
  const days =
    data.days.length > 0 ? ' The dotted lines are the reference of each day; a line is judged by its own.' : '';
  return `${kind}, ${counted(data.lines.length, 'line')}. ${told.join(' ')}${more} The hatched band is the ${bandWords(data)}.${days}`;
}
