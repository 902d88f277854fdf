import { isOutside } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { mapFrame, siteMap } from '../figures/site-map';
import { themedMapLook } from '../figures/site-map-look';
import { counted } from '../survey/wording';
import { html, type Markup, ownMarkup, shortText } from './html';
import { base64Hash } from './page-hash';
import {
  cautionList,
  doubtList,
  type LegendPart,
  leadNote,
  legendOf,
  samples,
  sureWords,
  withheldList,
  zoneHeading,
} from './page-parts';
import { PAGE_SCRIPT } from './page-script';
import { type PageSite, pageSite } from './page-site';
import { madeWords, noZoneWords, reviewWords, storyOf, titleOf, unknownParagraph } from './page-story';
import { pageStyle } from './page-style';
import type { ShareTerms } from './terms';

const MAP_WIDTH_PX = 960;
const MAP_HEIGHT_PX = 640;
const MOST_SHOWN = 5000;

/**
 * One HTML file that opens from disk: in short what was looked for, where, how small a void would have shown, what was found
 * and is unknown, whom to ask; then the map and everything in words. It asks the network for nothing and its policy forbids
 * it; without its script the text and the map are there all the same. Text of users is escaped everywhere. Who makes a report
 * as well draws the site once for both.
 */
export function plannerPage(disclosed: Disclosed, terms: ShareTerms, site: PageSite = pageSite(disclosed)): string {
  const look = themedMapLook(MAP_WIDTH_PX, MAP_HEIGHT_PX);
  const frame = mapFrame(site.data, look);
  const title = titleOf(disclosed, terms);
  const style = pageStyle();
  const policy = [
    "default-src 'none'",
    `script-src 'sha256-${base64Hash(PAGE_SCRIPT)}'`,
    `style-src 'sha256-${base64Hash(style)}'`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const legend = legendOf(site.data);
  // Outsiders get zones first, and so many strokes would make the map slow: they can be switched on.
  const hidden = isOutside(disclosed.audience) || site.data.segments.length > MOST_SHOWN ? ['segments'] : [];
  const page = html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<style>${ownMarkup(style)}</style>
</head>
<body>
<a class="skip" href="#zones">To the zones</a>
<header>${disclosed.survey.site.invented ? html`<p class="invented">An invented site. Nothing here is real ground.</p>` : null}<h1><bdi>${title}</bdi></h1><p>${reviewWords(disclosed)}</p></header>
<main>
<div class="first">
<section aria-label="In short"><dl class="answers">${storyOf(disclosed, terms).map(
    ({ key, question, answer }) => html`<dt>${question}</dt><dd data-answer="${key}">${answer}</dd>`,
  )}</dl></section>
<section class="map-block" aria-label="Map">
<div class="bar"><span id="map-tools" hidden><button type="button" id="nearer" aria-label="Nearer">+</button> <button type="button" id="farther" aria-label="Farther">−</button> <button type="button" id="whole">Whole site</button> <button type="button" id="measure" aria-pressed="false">Measure</button></span>
<label class="switch"><input type="checkbox" id="show-unsurveyed" checked> Hatch what is not surveyed</label></div>
<div id="map" data-px-per-m="${String(frame.pxPerM)}" data-within-m="${String(site.uncertainty95M ?? '')}">${ownMarkup(
    siteMap(site.data, look, { prefix: 'm', askable: true }),
  )}<div id="cross"></div></div>
</section>
<div id="meaning" role="status"></div>
</div>
<section aria-labelledby="layers"><h2 id="layers">Layers and legend</h2>
<div class="legend">${legend.map((part) => legendMarkup(part, look, hidden))}</div>
${leadNote(disclosed) === null ? null : html`<p>${leadNote(disclosed)}</p>`}
<p id="map-help" hidden>Drag or use the arrow keys to move the map, the wheel (after a click) or + and − to come nearer. Click on something, or bring the cross over it and press Enter, for its meaning. A high at narrow spacing and a low at wide spacing can be the same hollow.</p>
</section>
${zonesSection(disclosed)}
${featuresSection(site.data.features)}
<section class="text" aria-labelledby="unknown"><h2 id="unknown">What is unknown</h2>
<p>${unknownParagraph(disclosed.findings)}</p>
<details><summary>${counted(disclosed.findings.doubts.length, 'doubt')} about the readings</summary>${doubtList(disclosed)}</details></section>
<section class="text" aria-labelledby="withheld"><h2 id="withheld">What was withheld</h2>${withheldList(disclosed)}</section>
<section class="text" aria-labelledby="cautions"><h2 id="cautions">Cautions</h2>${cautionList(disclosed)}</section>
${aboutSection(disclosed, terms, site.uncertainty95M)}
</main>
<script>${ownMarkup(PAGE_SCRIPT)}</script>
</body>
</html>
`;
  return page.markup;
}

function legendMarkup(part: LegendPart, look: Parameters<typeof samples>[1], hidden: readonly string[]): Markup {
  const { layer, words } = part;
  const checked = hidden.includes(layer) ? '' : ' checked';
  const heading =
    layer === 'unsurveyed'
      ? html`<p><strong>${words}</strong></p>`
      : html`<label class="switch"><input type="checkbox" id="show-${layer}"${ownMarkup(checked)}> <strong>${words}</strong></label>`;
  return html`<div>${heading}<ul>${samples(part, look, 'k')}</ul></div>`;
}

function zonesSection({ findings }: Disclosed): Markup {
  const { zones } = findings;
  const search = html`<div class="search" hidden><label for="zone-search">Search for a zone</label> <input type="search" id="zone-search" autocomplete="off"> <span id="zone-count" role="status"></span></div>`;
  return html`<section aria-labelledby="zones"><h2 id="zones">What was found</h2>
${zones.length === 0 ? html`<p>${noZoneWords(findings)}</p>` : search}
${zones.map(
  (zone) =>
    html`<article class="zone" data-about="${zone.key}"><h3><bdi>${zoneHeading(zone)}</bdi></h3><p>${zone.paragraph}</p><p class="sure">How sure: ${sureWords(zone)}</p><button type="button" class="show" hidden aria-label="Show on the map: ${shortText(zone.name)}">Show on the map</button></article>`,
)}</section>`;
}

function featuresSection(features: readonly { readonly id: string; readonly words: string }[]): Markup {
  return html`<section class="text" aria-labelledby="features"><h2 id="features">Karst features</h2>${
    features.length === 0
      ? html`<p>None is on this map.</p>`
      : html`<details><summary>${counted(features.length, 'feature')}</summary><ul class="plain">${features.map(
          ({ id, words }) =>
            html`<li data-about="${id}">${words} <button type="button" class="show" hidden aria-label="Show on the map: ${words.slice(0, 60)}">Show on the map</button></li>`,
        )}</ul></details>`
  }</section>`;
}

function aboutSection(disclosed: Disclosed, terms: ShareTerms, within: number | null): Markup {
  const { findings, audience } = disclosed;
  const { contact, licence } = terms;
  return html`<section class="text" aria-labelledby="about"><h2 id="about">About this page</h2><ul class="plain">
<li>Review: ${reviewWords(disclosed)}</li>
<li>Whom to ask: ${contact ? shortText(contact, 400) : 'nobody is named.'}</li>
<li>Places: ${within === null ? 'no reading has a place.' : `every reading is placed within ${within.toFixed(1)} m (95 %, computed from the fixes and the tape, not tested).`}</li>
<li>Made ${madeWords(terms)} for the audience “${audience}”, with version ${findings.provenance.programVersion}.</li>
<li>Licence: ${licence ? shortText(licence, 400) : 'none is given.'}</li>
</ul></section>`;
}
