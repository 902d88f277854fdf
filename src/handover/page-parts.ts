import { isOutside } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { markWords } from '../figures/mark-words';
import type { SiteMapData } from '../figures/site-map-data';
import { type MapKeyItem, mapSample } from '../figures/site-map-key';
import type { SiteMapLook } from '../figures/site-map-look';
import type { ZoneFinding } from '../findings';
import { CAUTIONS } from '../survey/cautions';
import { SEVERITY_WORDS } from '../survey/doubt-words';
import { isTwoProbe } from '../survey/hookup';
import { counted, metres } from '../survey/wording';
import { html, type Markup, ownMarkup, shortText } from './html';
import { doubtsInOrder } from './page-doubts';
import { VERDICT_WORDS, verdictWords } from './page-story';
import { withheldSentences } from './withheld-words';

/*
 * What the planner's page and the report have in common.
 */

export type MapLayer = 'zones' | 'lines' | 'segments' | 'features' | 'setbacks' | 'corridors' | 'unsurveyed';

export interface LegendPart {
  readonly layer: MapLayer;
  readonly words: string;
  readonly items: readonly { readonly item: MapKeyItem; readonly words: string }[];
}

/** The legend of what is on the map and of nothing else, layer by layer. */
export function legendOf(data: SiteMapData): readonly LegendPart[] {
  const verdicts = (['void_like', 'unresolved', 'layer_like', 'contact_like'] as const).filter((verdict) =>
    data.zones.some((zone) => !zone.hint && zone.verdict === verdict),
  );
  const marks = (
    [
      ...(['strong_above', 'clear_above', 'slight_above', 'none'] as const),
      ...(['slight_below', 'clear_below', 'strong_below', 'over_range', 'not_graded'] as const),
    ] as const
  ).filter((key) => data.segments.some((segment) => segment.key === key));
  const glyphs = (['hollow', 'opening', 'water', 'other'] as const).filter((glyph) =>
    data.features.some((feature) => feature.glyph === glyph && feature.point !== null),
  );
  const parts: LegendPart[] = [
    {
      layer: 'zones',
      words: 'Zones',
      items: [
        ...verdicts.map((hatch) => ({ item: { kind: 'hatch', hatch } as const, words: VERDICT_WORDS[hatch] })),
        ...(data.zones.some(({ hint }) => hint)
          ? [{ item: { kind: 'hatch', hatch: 'hint' } as const, words: 'a hint: two-probe readings only' }]
          : []),
      ],
    },
    { layer: 'lines', words: 'Lines', items: [{ item: { kind: 'line' }, words: 'line of readings' }] },
    {
      layer: 'segments',
      words: 'Readings',
      items: marks.map((key) => ({ item: { kind: 'mark', key } as const, words: markWords(key, false) })),
    },
    {
      layer: 'features',
      words: 'Karst features',
      items: glyphs.map((glyph) => ({ item: { kind: 'glyph', glyph } as const, words: GLYPH_WORDS[glyph] })),
    },
    {
      layer: 'setbacks',
      words: 'Setbacks',
      items:
        data.setbacks.length > 0 ? [{ item: { kind: 'hatch', hatch: 'setback' }, words: 'by the survey’s rules' }] : [],
    },
    {
      layer: 'corridors',
      words: 'Surveyed',
      items:
        data.corridors.length > 0
          ? [{ item: { kind: 'corridor' }, words: 'corridor: the target would have shown' }]
          : [],
    },
    {
      layer: 'unsurveyed',
      words: 'Not surveyed',
      items: [{ item: { kind: 'hatch', hatch: 'unsurveyed' }, words: 'not surveyed, never safe' }],
    },
  ];
  return parts.filter(({ layer, items }) => items.length > 0 || (layer === 'features' && data.features.length > 0));
}

const GLYPH_WORDS = {
  hollow: 'sinkhole or depression',
  opening: 'way under ground',
  water: 'where water comes or goes',
  other: 'something else',
} as const;

/** What the colours of two-probe lines are, for those who see them. */
export const leadNote = ({ audience, findings }: Disclosed): string | null =>
  !isOutside(audience) && findings.lines.some(({ hookups }) => hookups.some(isTwoProbe))
    ? 'On two-probe lines the colours are hints, mostly made by the contact of the rods. They are no findings.'
    : null;

export const samples = (part: LegendPart, look: SiteMapLook, prefix: string): readonly Markup[] =>
  part.items.map(
    ({ item, words }, i) =>
      html`<li><span class="sample" aria-hidden="true">${ownMarkup(
        mapSample(item, words, look, `${prefix}-${part.layer}-${i}`),
      )}</span>${words}</li>`,
  );

/** How sure a zone is, in the numbers that it has. */
export function sureWords(zone: ZoneFinding): string {
  const { depthM, radiusM, chanceOfNoVoid, basis, readingCount, outings, lines, searched } = zone;
  const said = [
    `${counted(readingCount, 'reading')}, ${counted(lines.length, 'line')}, ${counted(outings.length, 'day')}`,
  ];
  if (chanceOfNoVoid !== null)
    said.push(
      `ordinary ground gives as much with a chance of ${chanceOfNoVoid < 0.001 ? 'less than 0.001' : chanceOfNoVoid.toFixed(3)}`,
    );
  if (basis === 'search' && depthM) said.push(`depth ${metres(depthM.low95)} to ${metres(depthM.high95)} (95 %)`);
  if (basis === 'search' && radiusM) said.push(`radius ${metres(radiusM.low95)} to ${metres(radiusM.high95)} (95 %)`);
  if (basis === 'grades')
    said.push(
      `${searched ? 'the search along the line needs no void here' : 'no search was made here'}: no depth, no size`,
    );
  return `${said.join('; ')}.`;
}

export const zoneHeading = (zone: ZoneFinding): string => `${shortText(zone.name)}: ${verdictWords(zone)}`;

export function doubtList({ findings }: Disclosed): Markup {
  const doubts = doubtsInOrder(findings.doubts);
  if (doubts.length === 0 && findings.unplaced.length === 0) return html`<p>None was found.</p>`;
  return html`<ul class="plain">${doubts.map(
    ({ severity, sentence, remedy }) =>
      html`<li><strong>${SEVERITY_WORDS[severity]}.</strong> ${sentence} ${remedy}</li>`,
  )}${findings.unplaced.map(({ sentence }) => html`<li><strong>Not placed.</strong> ${sentence}</li>`)}</ul>`;
}

/** Those of the work itself last, for readers who do not do it. */
export const cautionList = ({ audience }: Disclosed): Markup =>
  html`<ul class="plain">${(isOutside(audience) ? [...CAUTIONS].reverse() : CAUTIONS).map((words) => html`<li>${words}</li>`)}</ul>`;

/** What a share does not hold and why; never which. */
export const withheldList = (disclosed: Disclosed): Markup =>
  html`<ul class="plain">${withheldSentences(disclosed).map((sentence) => html`<li>${shortText(sentence, 600)}</li>`)}</ul>`;
