import { candidatePlace, searchWords } from '../studies/line-words';
import type { SurveySearch } from '../studies/search-survey';
import type { RangeM, VoidSearchResult } from '../studies/void-search-answer';

const decimals = (value: number, places: number): number => Number(value.toFixed(places)) + 0;

/** `chainage_m`, `chainage_low_95_m`, `chainage_high_95_m`, and `chainage_open` where the search itself ended. */
function range(name: string, unit: string, { best, low95, high95, openLow, openHigh }: RangeM): object {
  return {
    [`${name}_${unit}`]: decimals(best, 2),
    [`${name}_low_95_${unit}`]: decimals(low95, 2),
    [`${name}_high_95_${unit}`]: decimals(high95, 2),
    [`${name}_open`]: [...(openLow ? ['low'] : []), ...(openHigh ? ['high'] : [])].join(';'),
  };
}

/** The searches of a survey for its JSON document. */
export function searchDocument({ results, leftOut }: SurveySearch): object {
  return {
    results: results.map(resultDocument),
    left_out: leftOut.map(({ lines, sentence }) => ({ lines, sentence })),
  };
}

function resultDocument(result: VoidSearchResult): object {
  return {
    lines: result.lines,
    threshold: decimals(result.threshold, 2),
    false_alarm_rate: result.falseAlarmRate,
    simulations: result.simulations,
    relief_share: decimals(result.relief.share, 3),
    relief_wavelength_m: decimals(result.relief.wavelengthM, 1),
    candidates: result.candidates.map((candidate) => ({
      line: candidate.line,
      kind: candidate.kind,
      ...range('chainage', 'm', candidate.chainageM),
      ...range('depth', 'm', candidate.depthM),
      ...range('radius', 'm', candidate.radiusM),
      ...(candidate.bearingDeg ? range('bearing', 'deg', candidate.bearingDeg) : { bearing_deg: null }),
      crossings: candidate.crossings.map(({ line, chainageM }) => ({ line, ...range('chainage', 'm', chainageM) })),
      statistic: decimals(candidate.statistic, 2),
      p_global: decimals(candidate.pGlobal, 4),
      verdict: candidate.verdict,
      rivals: Object.fromEntries(Object.entries(candidate.rivals).map(([rival, gain]) => [rival, decimals(gain, 2)])),
      midpoints: candidate.readings,
      sentence: candidate.sentence,
    })),
    findable: result.findable.map(({ line, kind, chainageM, depthM, radiusM }) => ({
      line,
      kind,
      chainage_m: decimals(chainageM, 2),
      depth_m: decimals(depthM, 2),
      radius_m: radiusM === null ? null : decimals(radiusM, 2),
    })),
    useful: result.useful.map((reading) => ({
      line: reading.line,
      chainage_m: decimals(reading.chainageM, 2),
      spacing_m: decimals(reading.spacingM, 2),
      hookup: reading.hookup,
      ratio_if_void: decimals(reading.ifVoid, 3),
      ratio_if_not: decimals(reading.ifNot, 3),
    })),
    sentences: searchWords(result),
    assumptions: result.remarks,
    key: result.key,
  };
}

/** The searches in sentences: what was found, line by line, and what could not be searched. */
export function searchText({ results, leftOut }: SurveySearch): readonly string[] {
  return [
    'Search for voids',
    ...results.flatMap((result) => [
      ...searchWords(result)
        .slice(0, 1)
        .map((sentence) => `  ${sentence}`),
      ...result.candidates.map((candidate) => `    ${candidatePlace(candidate)} ${candidate.sentence}`),
    ]),
    ...leftOut.map(({ lines, sentence }) => `  Not searched (${lines.join(', ')}): ${sentence}`),
    '  No candidate is no proof of sound ground.',
  ];
}
