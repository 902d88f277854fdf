import type { MidpointFinding } from '../../findings';
import { HOOKUP_LABEL } from '../../survey/hookup';
import { counted, metres, ratioText } from '../../survey/wording';
import { BASIS_WORDS } from './basis-words';
import { depthWords } from './depth-words';
import { figureName, figureWords, TWO_PROBE_SENTENCE } from './figure-words';
import { gradeWords } from './grade-words';
import { lineWords } from './line-words';
import { latLonWords, radiusWords } from './position-words';
import { probeWords } from './probe-words';

export interface Told {
  readonly term: string;
  readonly words: string;
}

export interface ReadingTold {
  readonly title: string;
  readonly verdict: string;
  readonly rows: readonly Told[];
  /** What kind of figure this is, where that must not be missed; null for a resistivity. */
  readonly warning: string | null;
}

/** Spacing in words; readings may come without one. */
export function spacingWords(spacingM: number | null): string {
  return spacingM === null ? 'spacing not said' : `spacing ${metres(spacingM)}`;
}

/** No line break between a number and its metre. */
const unbroken = (text: string): string => text.replace(/(\d) m\b/g, '$1\u00a0m');

function shownWords(shown: readonly string[], readingCount: number): string {
  const values = shown.join('; ');
  if (shown.length <= 1) return `${values} (read once)`;
  return `${values} (${counted(shown.length, 'reading')}, ${readingCount} of them in the figure)`;
}

function referenceWords(finding: MidpointFinding): string {
  if (finding.referenceOhmM === null) return `none: ${BASIS_WORDS[finding.referenceBasis]}`;
  const figure = figureWords({ figureOhmM: finding.referenceOhmM, figureAboveOhmM: null });
  return `${figure}, from ${BASIS_WORDS[finding.referenceBasis]}`;
}

/** All that is known of a reading, in plain words and in the order that a person asks. */
export function describeReading(finding: MidpointFinding, lineName: string, shown: readonly string[]): ReadingTold {
  const rows: Told[] = [
    { term: 'Meter showed', words: shownWords(shown, finding.readingCount) },
    { term: figureName(finding.figureKind), words: figureWords(finding) },
    { term: 'Reference', words: referenceWords(finding) },
  ];
  if (finding.ratio !== null && finding.ratioStandardError !== null) {
    const error = finding.ratioStandardError.toFixed(2);
    rows.push({ term: 'Ratio', words: `${ratioText(finding.ratio)} ± ${error} times the reference` });
  }
  if (finding.zScore !== null) {
    const side = finding.zScore < 0 ? 'below' : 'above';
    rows.push({
      term: 'How unusual',
      words: `${Math.abs(finding.zScore).toFixed(1)} standard errors ${side} (z ${finding.zScore.toFixed(1).replace('-', '−')})`,
    });
  }
  if (finding.stepRatio !== null) {
    rows.push({
      term: 'Step',
      words: `from the next narrower spacing it steps ${ratioText(finding.stepRatio)} times as much as the reference does`,
    });
  }
  rows.push(
    { term: 'Depth', words: depthWords(finding) },
    { term: 'Hookup', words: HOOKUP_LABEL[finding.hookup] },
    { term: 'Probes', words: probeWords(finding) },
    { term: 'Speaks for', words: `${metres(finding.fromM)} to ${metres(finding.toM)} along the line` },
    {
      term: 'Position',
      words: `${latLonWords(finding.lon, finding.lat)}, ${radiusWords(finding.uncertainty95M)}`,
    },
  );
  if (finding.measuredAt !== null) rows.push({ term: 'Read on', words: finding.measuredAt.replace('T', ' ') });
  return {
    title: unbroken(`${lineWords(lineName)}, ${metres(finding.chainageM)}, ${spacingWords(finding.spacingM)}`),
    verdict: finding.ratio === null ? gradeWords(finding) : `${gradeWords(finding)}: ×${ratioText(finding.ratio)}`,
    rows,
    warning: finding.figureKind === 'two_probe' ? TWO_PROBE_SENTENCE : null,
  };
}
