import { isOutside } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { mapFrame, siteMap } from '../figures/site-map';
import { fileMapLook, type SiteMapLook } from '../figures/site-map-look';
import type { ZoneFinding } from '../findings';
import { HOOKUP_LABEL } from '../survey/hookup';
import type { LineId } from '../survey/ids';
import type { Reading } from '../survey/survey';
import { metres } from '../survey/wording';
import { html, type Markup, ownMarkup, shortText } from './html';
import { base64Hash } from './page-hash';
import {
  cautionList,
  doubtList,
  leadNote,
  legendOf,
  samples,
  sureWords,
  withheldList,
  zoneHeading,
} from './page-parts';
import { type PageSite, pageSite } from './page-site';
import { findableWords, madeWords, noZoneWords, reviewWords, storyOf, titleOf, unknownParagraph } from './page-story';
import { type ReadingsOf, zoneFigures } from './report-figures';
import { accuracySection, methodsSection } from './report-methods';
import { REPORT_STYLE } from './report-style';
import type { ShareTerms } from './terms';

const MAP_WIDTH_PX = 696;
const MAP_HEIGHT_PX = 430;
/** How wide the map is on paper, as the style says. */
const MAP_WIDTH_MM = 174;

/**
 * The whole story on paper: one HTML file that asks the network for nothing, has no script, and prints on A4 and Letter with
 * page numbers. Hatches, names and words say everything that colours say. Text of users is escaped everywhere.
 */
export function report(disclosed: Disclosed, terms: ShareTerms, site: PageSite = pageSite(disclosed)): string {
  const { survey, findings, audience } = disclosed;
  const title = titleOf(disclosed, terms);
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'sha256-${base64Hash(REPORT_STYLE)}'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>Report: ${title}</title>
<style>${ownMarkup(REPORT_STYLE)}</style>
</head>
<body>
<main>
${survey.site.invented ? html`<p class="invented">An invented site. Nothing here is real ground.</p>` : null}
<h1><bdi>${title}</bdi></h1>
<p>${reviewWords(disclosed)} Made ${madeWords(terms)} for the audience “${audience}”.</p>
<dl class="answers">${storyOf(disclosed, terms).map(
    ({ key, question, answer }) => html`<dt>${question}</dt><dd data-answer="${key}">${answer}</dd>`,
  )}</dl>
<h2 id="map">Map</h2>
${mapFigure(site, isOutside(audience))}
${leadNote(disclosed) === null ? null : html`<p>${leadNote(disclosed)}</p>`}
<h2 id="found">What was found</h2>
${zonesOf(disclosed)}
<h2 id="unknown">What is unknown</h2>
<p>${unknownParagraph(disclosed.findings)}</p>
${linesTable(disclosed)}
<h3>Doubts</h3>
${doubtList(disclosed)}
<h2 id="features">Karst features</h2>
${site.data.features.length === 0 ? html`<p>None is on this map.</p>` : html`<ul class="plain">${site.data.features.map(({ words }) => html`<li>${words}</li>`)}</ul>`}
${methodsSection(disclosed)}
${accuracySection(disclosed)}
<h2 id="withheld">What was withheld</h2>
${withheldList(disclosed)}
<h2 id="cautions">Cautions</h2>
${cautionList(disclosed)}
<h2 id="who">Who stands behind it</h2>
${outingsTable(disclosed)}
<table class="sign"><tbody>
<tr><th scope="row">Review</th><td>${reviewWords(disclosed)}</td></tr>
<tr><th scope="row">Whom to ask</th><td>${terms.contact ? shortText(terms.contact, 400) : 'Nobody is named.'}</td></tr>
<tr><th scope="row">Licence</th><td>${terms.licence ? shortText(terms.licence, 400) : 'None is given.'}</td></tr>
<tr><th scope="row">Computed with</th><td>version ${findings.provenance.programVersion}</td></tr>
<tr><th scope="row">Reviewed by (name, licence, date, signature)</th><td></td></tr>
</tbody></table>
</main>
</body>
</html>
`.markup;
}

function mapFigure({ data, middle }: PageSite, outside: boolean): Markup {
  const look = fileMapLook(MAP_WIDTH_PX, MAP_HEIGHT_PX);
  const paper: SiteMapLook = { ...look, paper: '#ffffff' };
  // Single readings are no findings: those for whom the map is a decision get zones.
  const shown = outside ? { ...data, segments: [] } : data;
  const frame = mapFrame(shown, paper);
  const ratio = MAP_WIDTH_PX / frame.pxPerM / (MAP_WIDTH_MM / 1000);
  const inside = ([x, y]: readonly [number, number]): boolean => {
    const [px, py] = frame.at([x, y]);
    return px >= 0 && px <= MAP_WIDTH_PX && py >= 0 && py <= MAP_HEIGHT_PX;
  };
  const beyond = data.features.filter(
    ({ point, lines, rings }) => !(point && inside(point)) && ![...lines, ...rings].flat().some(inside),
  ).length;
  return html`<figure class="map">${ownMarkup(siteMap(shown, paper, { prefix: 'm', askable: false }))}
<figcaption>North is up. Scale about 1 : ${Number(ratio.toPrecision(3))} where the map is ${MAP_WIDTH_MM} mm wide; the bar holds at any size. Middle of the map ${middle.lat.toFixed(5)}, ${middle.lon.toFixed(5)} (WGS 84).${
    beyond > 0 ? ` Features beyond its edge: ${beyond}.` : ''
  }</figcaption>
<div class="legend">${legendOf(shown).map(
    (part) => html`<div><p>${part.words}</p><ul>${samples(part, paper, 'k')}</ul></div>`,
  )}</div></figure>`;
}

function zonesOf(disclosed: Disclosed): Markup {
  const { zones } = disclosed.findings;
  if (zones.length === 0) return html`<p>${noZoneWords(disclosed.findings)}</p>`;
  const readingsOf = readingsByLine(disclosed.survey.readings);
  return html`${zones.map(
    (zone) =>
      html`<section class="zone"><h3><bdi>${zoneHeading(zone)}</bdi></h3><p>${zone.paragraph}</p><p class="sure">How sure: ${sureWords(zone)}</p>${figuresOf(zone, disclosed, readingsOf)}</section>`,
  )}`;
}

function figuresOf(zone: ZoneFinding, disclosed: Disclosed, readingsOf: ReadingsOf): Markup {
  const figures = zoneFigures(zone, disclosed, readingsOf);
  return html`<div class="figures">${figures.map(
    ({ svg, caption }) => html`<figure>${ownMarkup(svg)}<figcaption>${caption}</figcaption></figure>`,
  )}</div>`;
}

function readingsByLine(readings: readonly Reading[]): ReadingsOf {
  const byLine = new Map<LineId, Reading[]>();
  for (const reading of readings) {
    const own = byLine.get(reading.line);
    if (own) own.push(reading);
    else byLine.set(reading.line, [reading]);
  }
  return ({ lineId }) => byLine.get(lineId) ?? [];
}

function linesTable({ findings }: Disclosed): Markup {
  return html`<div class="table"><table><caption>Lines, and how much of each was surveyed for the target</caption>
<thead><tr><th scope="col">Line</th><th scope="col">Wiring</th><th scope="col">Length</th><th scope="col">Readings</th><th scope="col">Corridor</th><th scope="col">Searched</th></tr></thead>
<tbody>${findings.lines.map(({ lineId, name, hookups, lengthM, readingCount, corridors }) => {
    const covered = corridors.reduce((sum, { fromM, toM }) => sum + toM - fromM, 0);
    const most = Math.max(0, ...corridors.map(({ halfWidthM }) => halfWidthM));
    const searched = findings.searchedLines.includes(lineId);
    const own = findings.findable.filter((place) => place.lineId === lineId);
    const found = searched ? findableWords(own, findings.provenance.settings) : null;
    return html`<tr><th scope="row"><bdi>${shortText(name)}</bdi></th><td>${hookups.map((hookup) => HOOKUP_LABEL[hookup]).join(', ')}</td><td>${metres(lengthM)}</td><td>${readingCount}</td><td>${
      covered > 0
        ? `${metres(covered)}, to ${metres(most)} beside it`
        : searched
          ? 'none'
          : 'none: no size of void can be excluded'
    }</td><td>${searched ? (found === null ? 'yes: nothing that was tried would have been found' : `yes: ${found}`) : 'no'}</td></tr>`;
  })}</tbody></table></div>`;
}

function outingsTable({ survey }: Disclosed): Markup {
  const outings = survey.outings.filter(({ retired }) => !retired);
  if (outings.length === 0) return html`<p>No day of work is written down.</p>`;
  return html`<div class="table"><table><caption>Days of work</caption><thead><tr><th scope="col">Day</th><th scope="col">Name</th><th scope="col">People</th></tr></thead><tbody>${outings.map(
    ({ name, date, people }) =>
      html`<tr><th scope="row">${date ? shortText(date, 20) : 'not said'}</th><td><bdi>${shortText(name)}</bdi></td><td>${
        people.map((person) => shortText(person, 40)).join(', ') || 'not said here'
      }</td></tr>`,
  )}</tbody></table></div>`;
}
