import { AUDIENCE_WORDS } from '../discretion/audience';
import type { Disclosed } from '../discretion/disclose';
import { CAUTIONS } from '../survey/cautions';
import { counted } from '../survey/wording';
import type { ShareTerms } from './terms';
import { withheldSentences } from './withheld-words';

/** README.txt of a pack: what each file is, what the figures can and cannot mean, what was left out and why. */
export function readmeText(disclosed: Disclosed, terms: ShareTerms, names: readonly string[]): string {
  const { survey, findings, audience } = disclosed;
  const { site } = survey;
  const files = FILES.flatMap(([pattern, about]) =>
    names.filter((name) => pattern.test(name)).map((name) => `  ${name.padEnd(34)} ${about}`),
  );
  const lines = [
    (terms.title ?? site.name).toUpperCase(),
    ...(site.invented ? ['The site is invented: nothing here is a real place.'] : []),
    '',
    `Ground-resistivity readings over karst: ${counted(findings.lines.length, 'line')}, ${counted(findings.zones.length, 'zone')}.`,
    `Made ${terms.madeAt.slice(0, 10)} for ${AUDIENCE_WORDS[audience]}.`,
    `Review: ${site.review_status}${site.reviewer ? `, ${site.reviewer}` : ''}${site.review_date ? `, ${site.review_date}` : ''}.`,
    `Whom to ask: ${terms.contact ?? 'nobody is named; ask whoever sent this.'}`,
    `Terms of use: ${terms.licence ?? 'none were stated; ask before passing it on.'}`,
    '',
    'FILES',
    ...files,
    '',
    'WHAT IT MEANS',
    '  Open page.html first: it needs no network and no other program.',
    '  The layers are evidence for a hazard map, not a hazard map: none states a hazard class.',
    '  Outside the corridors is not surveyed, which is not the same as safe.',
    '  A high at close spacing and a low at wide spacing can be the same hollow.',
    '  Two-probe readings are mostly contact of the rods: they are hints, and no void size can be excluded by them.',
    '',
    'WHAT WAS LEFT OUT, AND WHY',
    ...withheldSentences(disclosed).map((sentence) => `  ${sentence}`),
    '',
    'CAUTIONS',
    ...CAUTIONS.map((caution) => `  ${caution}`),
    '',
    'Whether the files are whole: sha256sum -c SHA256SUMS',
    '',
  ];
  // Whatever was typed in goes into one line each.
  return lines.map((line) => line.replace(/\p{Cc}/gu, ' ')).join('\n');
}

const FILES: readonly (readonly [RegExp, string])[] = [
  [/^page\.html$/, 'what was looked for and found, on one page; opens by itself'],
  [/^report\.html$/, 'the same with methods and figures, to print'],
  [/^layers\.gpkg$/, 'all layers in one GeoPackage'],
  [/^layers\/.*\.geojson$/, 'one of the same layers as GeoJSON'],
  [/^layers\.kml$/, 'the same as KML, for globes; drawn on the ground, with heights in the data'],
  [/^stakes\.gpx$/, 'electrodes and the next readings, for a receiver in the field'],
  [/^tables\/.*\.csv$/, 'what was entered, as a table; columns that would be empty are not there'],
  [/^styles\/.*\.sld$/, 'how that layer is drawn (OGC SLD 1.0.0)'],
  [
    /survey\.json$/,
    'everything that was entered, to be opened and gone on with; “hollowline schema” writes its schema',
  ],
  [/^dictionary\.(csv|json)$/, 'what every property and column means: unit, type, codes, what null or empty says'],
  [/^metadata\.json$/, 'lineage, accuracy, dates, limits: the core of ISO 19115'],
  [/^README\.txt$/, 'this'],
  [/^SHA256SUMS$/, 'a digest of every file'],
];
