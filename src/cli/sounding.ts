import { appraise } from '../appraise';
import { createVoidTable } from '../ground/void-table';
import { type SoundingResult, sounding as soundingStudy } from '../studies/sounding';
import { soundingInput } from '../studies/sounding-input';
import { SOUNDING_ASSUMPTIONS, showsVoid, soundingWords } from '../studies/sounding-words';
import { HOOKUP_LABEL, HOOKUPS, type Hookup } from '../survey/hookup';
import { chainageList, metres } from '../survey/wording';
import { faultOf, printable } from './faults';
import { COLUMNS_HELP, JSON_HELP, oneOf, onePath, parsed, SURVEY_HELP } from './options';
import { progress } from './progress';
import { readSurvey } from './read-survey';
import { settingsFor } from './settings-for';
import { wholeLine } from './whole-line';

export const SOUNDING_HELP = `hollowline sounding SURVEY --line L --at M [--hookup H] [--whole-line] [--columns MAP.json] [--json]

  What one ladder can say, with ranges: how much of it is contact, what layers it shows, and whether a
  void is needed to explain it. A ladder is three spacings or more, read at one midpoint. The void test
  needs five spacings that were read at the reference too.
${SURVEY_HELP}
  --line L            name of the line
  --at M              chainage of the midpoint, in metres
  --hookup H          which ladder, where the midpoint was read with several hookups
  --whole-line        adds what the whole line says under this midpoint: its section, and the search
                      for a void along it. Slow: up to a minute
${COLUMNS_HELP}
${JSON_HELP}

  A two-probe ladder can tell of contact only: there is no resistivity, no layer and no void in it.

  Assumptions
${SOUNDING_ASSUMPTIONS.map((sentence) => wrapped(sentence)).join('\n')}

  Example: hollowline sounding demo-data --line A --at 18`;

function wrapped(sentence: string): string {
  const lines: string[] = [];
  let line = '';
  for (const word of sentence.split(' ')) {
    if (line.length + word.length > 92) {
      lines.push(line);
      line = '';
    }
    line += `${line === '' ? '' : ' '}${word}`;
  }
  return [...lines, line].map((text, i) => `  ${i === 0 ? '- ' : '  '}${text}`).join('\n');
}

/** `hollowline sounding`: exit 0; a line or chainage without a ladder is bad input. */
export function sounding(args: readonly string[], print: (text: string) => void): number {
  const { values, positionals } = parsed(args, {
    line: { type: 'string' },
    at: { type: 'string' },
    hookup: { type: 'string' },
    'whole-line': { type: 'boolean' },
    columns: { type: 'string' },
    json: { type: 'boolean' },
  });
  const path = onePath(positionals, 'survey');
  if (!values.line) throw faultOf('arguments', '--line', '', 'the name of a line');
  const atM = Number(values.at?.trim() === '' ? Number.NaN : values.at);
  if (!Number.isFinite(atM)) throw faultOf('arguments', '--at', values.at ?? '', 'a chainage in metres');
  const hookup: Hookup | null =
    values.hookup === undefined ? null : oneOf(values.hookup, HOOKUPS, '--hookup', 'unknown');
  const { survey } = readSurvey(path, values.columns);
  const findings = appraise(survey, settingsFor(survey));
  const input = soundingInput(survey, findings, values.line, atM, hookup);
  if (!input.ok) {
    const option = input.code === 'no_ladder_here' ? '--at' : '--line';
    throw faultOf(
      'arguments',
      option,
      option === '--at' ? (values.at ?? '') : values.line,
      `a ladder. ${input.sentence}`,
    );
  }
  const result = soundingStudy(input.value, createVoidTable, progress('sounding'));
  const whole = values['whole-line'] ? wholeLine(survey, findings, result) : null;
  print(
    values.json
      ? JSON.stringify({ ...soundingDocument(result), ...(whole && { whole_line: whole.document }) }, null, 2)
      : [soundingText(result), ...(whole?.lines ?? [])].join('\n'),
  );
  return 0;
}

/** The result as the contract of the command has it; keys beyond it only add. */
export function soundingDocument(result: SoundingResult): object {
  const { contact, layers, void: answer } = result;
  const told = soundingWords(result);
  const { test } = answer;
  const shown = test && showsVoid(test) ? test.best : null;
  return {
    line: result.line,
    chainage_m: result.chainageM,
    hookup: result.hookup,
    spacings_m: result.spacingsM,
    over_range_m: result.overRangeM,
    contact: {
      verdict: contact.verdict,
      share: contact.share,
      share_low_95: contact.low95,
      share_high_95: contact.high95,
      by_spacing: contact.bySpacing.map(({ spacingM, share, low95, high95 }) => ({
        spacing_m: spacingM,
        share,
        share_low_95: low95,
        share_high_95: high95,
      })),
      seatings: result.seatings.map(({ seating, known, contactOhm, sigmaOhm, sentence }) => ({
        seating,
        known,
        contact_ohm: contactOhm,
        standard_error_ohm: sigmaOhm,
        sentence,
      })),
      follows: result.follows && {
        verdict: result.follows.verdict,
        cause: result.follows.cause,
        chainage_m: result.follows.chainageM,
        seating: result.follows.seating,
        ratio: result.follows.ratio,
      },
      sentences: told.contact,
    },
    layers: {
      reason: layers.reason,
      model: layers.model && modelDocument(layers.model),
      equivalence: layers.model ? layers.model.equivalences.map(({ sentence }) => sentence) : null,
      misfit: layers.model?.misfit ?? null,
      sentences: told.layers,
    },
    void: {
      verdict: answer.verdict,
      reason: answer.reason,
      depth_m: shown?.depthM.middle ?? null,
      depth_low_95_m: shown?.depthM.low95 ?? null,
      depth_high_95_m: shown?.depthM.high95 ?? null,
      radius_m: shown?.radiusM.middle ?? null,
      radius_low_95_m: shown?.radiusM.low95 ?? null,
      radius_high_95_m: shown?.radiusM.high95 ?? null,
      offset_m: shown?.offsetM.middle ?? null,
      offset_low_95_m: shown?.offsetM.low95 ?? null,
      offset_high_95_m: shown?.offsetM.high95 ?? null,
      shape: shown?.tried.kind ?? null,
      delta_criterion: test?.deltaCriterion ?? null,
      weights: test?.weights ?? null,
      bounds: test && {
        depth_from_m: test.bounds.shallowestM,
        depth_to_m: test.bounds.deepestM,
        radius_to_m: test.bounds.largestRadiusM,
        offset_to_m: test.bounds.farthestM,
      },
      sentences: told.void,
    },
    assumptions: SOUNDING_ASSUMPTIONS,
    key: result.key,
  };
}

function modelDocument({ resistivities, thicknesses }: NonNullable<SoundingResult['layers']['model']>): object[] {
  return resistivities.map((resistivity, i) => {
    const thickness = thicknesses[i];
    return {
      resistivity_ohm_m: resistivity.value,
      resistivity_low_95: resistivity.low95,
      resistivity_high_95: resistivity.high95,
      resistivity_open: openEnds(resistivity),
      thickness_m: thickness?.value ?? null,
      thickness_low_95: thickness?.low95 ?? null,
      thickness_high_95: thickness?.high95 ?? null,
      thickness_open: thickness ? openEnds(thickness) : null,
    };
  });
}

/** Which end of a range is that of the search, because the readings set none: `low`, `high`, both or none. */
const openEnds = ({ openLow, openHigh }: { readonly openLow: boolean; readonly openHigh: boolean }): string =>
  [...(openLow ? ['low'] : []), ...(openHigh ? ['high'] : [])].join(';');

function soundingText(result: SoundingResult): string {
  const told = soundingWords(result);
  const part = (title: string, sentences: readonly string[]): string[] => [
    '',
    title,
    ...sentences.map((sentence) => `  ${sentence}`),
  ];
  return [
    `Line ${result.line} at ${metres(result.chainageM)}, ${HOOKUP_LABEL[result.hookup]}, spacings ${chainageList(result.spacingsM, 12)}.`,
    ...part('Contact', told.contact),
    ...part('Layers', told.layers),
    ...part('Void', told.void),
    ...part('Assumptions', SOUNDING_ASSUMPTIONS),
  ]
    .map(printable)
    .join('\n');
}
