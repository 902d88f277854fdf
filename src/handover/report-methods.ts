import type { Disclosed } from '../discretion/disclose';
import type { ReferenceBasis, Settings } from '../findings';
import { HOOKUP_LABEL, isTwoProbe } from '../survey/hookup';
import { html, type Markup } from './html';

/** How the figures came about, with formulas and settings. */
export function methodsSection({ findings }: Disclosed): Markup {
  const hookups = [...new Set(findings.lines.flatMap((line) => line.hookups))];
  const four = hookups.filter((hookup) => !isTwoProbe(hookup));
  const { settings } = findings.provenance;
  return html`<h2 id="methods">How it was done</h2>
<p>Wiring: ${hookups.map((hookup) => HOOKUP_LABEL[hookup]).join(', ') || 'none'}.</p>
${
  four.length > 0
    ? html`<p>Apparent resistivity: ρ<sub>a</sub> = K·R with K = 2π / (1/AM − 1/AN − 1/BM + 1/BN), from where the electrodes stand; remote electrodes count at their places where those are known.</p>
<p>Depth: ${
        settings.depthRule === 'median'
          ? 'the median depth of investigation of uniform ground (Edwards 1977); pole-pole 0.866 a'
          : 'half the spacing (common practice)'
      }. It is what a reading looks at and no depth of anything found.</p>`
    : null
}
${
  hookups.some(isTwoProbe)
    ? html`<p>Two-probe: current and potential share two rods, so that R = R<sub>c1</sub> + R<sub>c2</sub> − ρ/(πa), mostly the contact of the rods (R<sub>c</sub> after Dwight 1936). The figure 2πaR is no resistivity and has no depth. It ranks hints and excludes nothing.</p>`
    : null
}
<p>Ratio: each figure is divided by the reference of its spacing, wiring, day and wetting (${basisCounts(findings)}). Its standard error holds repeats, the scatter of the reference and the meter, and is never below ${String(settings.standardErrorFloor * 100)} %. z = ln(ratio) / standard error. A grade needs |z| ≥ ${settings.zThreshold} and a ratio beyond ${settings.ratioBreaks.join(', ')} (slight, clear, strong) or their inverses; two-probe hints ${settings.ratioBreaksTwoProbe.join(', ')}. ${
    settings.falseDiscoveryRate < 1
      ? `Along each line the share of false ones among the graded is held to ${settings.falseDiscoveryRate}.`
      : 'The share of false grades is not controlled.'
  }</p>
<p>Sign of a void: an air-filled void raises the readings of spacings below about twice its depth and lowers those above. A high at narrow spacing and a low at wide spacing can be the same hollow.</p>
<p>Corridors: as far beside a line as the target, an air-filled chamber of radius ${settings.target.radiusM} m with its centre ${settings.target.depthToCentreM} m down, would still change a reading by two standard errors. ${
    findings.searchedLines.length > 0
      ? `${findings.searchedLines.length} of ${findings.lines.length} lines were searched for a void with all their readings at once, against uneven soil.`
      : 'No line was searched for a void with all its readings at once.'
  }</p>
<table class="settings"><caption>Settings</caption><tbody>${settingRows(settings).map(
    ([words, value]) => html`<tr><th scope="row">${words}</th><td>${value}</td></tr>`,
  )}</tbody></table>`;
}

/** Every setting in words. */
function settingRows(settings: Settings): readonly (readonly [string, string])[] {
  return [
    ['Depth rule', settings.depthRule === 'median' ? 'median depth of investigation' : 'half the spacing'],
    ['Least relative standard error of a reading', String(settings.standardErrorFloor)],
    ['Least |z| of a grade', String(settings.zThreshold)],
    ['Ratio breaks', settings.ratioBreaks.join(', ')],
    ['Ratio breaks, two-probe hints', settings.ratioBreaksTwoProbe.join(', ')],
    ['Stations before the site’s median may stand in for a reference', String(settings.medianStations)],
    [
      'False discovery rate along a line',
      `${settings.falseDiscoveryRate} (${settings.falseDiscoveryMethod === 'benjamini_hochberg' ? 'Benjamini and Hochberg' : 'Benjamini and Yekutieli'})`,
    ],
    ['Level of other soil taken out where separable', settings.takeOutLevel ? 'yes' : 'no'],
    ['Target of the corridors', `radius ${settings.target.radiusM} m, centre ${settings.target.depthToCentreM} m down`],
    ['No reading proposed nearer to an opening or rim than', `${settings.rimDistanceM} m`],
  ];
}

const BASIS_WORDS: Readonly<Record<ReferenceBasis, string>> = {
  same_day_and_wetting: 'of the same day and wetting',
  same_day_other_wetting: 'of the same day, other wetting',
  other_day: 'of another day',
  other_day_and_wetting: 'of another day and wetting',
  site_median: 'the site’s own median, for want of a reference',
  none: 'nothing to compare with',
};

function basisCounts(findings: Disclosed['findings']): string {
  const counts = new Map<ReferenceBasis, number>();
  for (const { midpoints } of findings.lines)
    for (const { referenceBasis } of midpoints) counts.set(referenceBasis, (counts.get(referenceBasis) ?? 0) + 1);
  return [...counts].map(([basis, count]) => `${count} ${BASIS_WORDS[basis]}`).join('; ') || 'no readings';
}

/** How well places are known. No independent check points are kept in a survey, so it speaks of no tested accuracy. */
export function accuracySection({ findings }: Disclosed): Markup {
  const midpoints = findings.lines.flatMap((line) => line.midpoints);
  const radii = midpoints.map(({ uncertainty95M }) => uncertainty95M).sort((p, q) => p - q);
  const [middle, most] = [radii[radii.length >> 1], radii.at(-1)];
  const fits = findings.lines.flatMap(({ controls }) => controls.flatMap(({ residualM }) => residualM ?? []));
  const worst = fits.reduce((p, q) => Math.max(p, Math.abs(q)), 0);
  return html`<h2 id="accuracy">How well places are known</h2>
${
  middle === undefined || most === undefined
    ? html`<p>No reading has a place.</p>`
    : html`<p>Computed, not tested: by the least-squares fit of fixes, tape and compass, a reading lies within ${middle.toFixed(1)} m of its place on the map with 95 % (the middle one of all), the worst within ${most.toFixed(1)} m. The radius holds 95 % of the computed scatter in two dimensions (R95). ${
        fits.length > 0 ? `The placed points differ from the fitted lines by at most ${worst.toFixed(2)} m.` : ''
      } No independent check points were measured against it.</p>`
}
<p>Coordinates are WGS 84. Lengths are measured in a plane of scale 1 about the middle of the map.</p>`;
}
