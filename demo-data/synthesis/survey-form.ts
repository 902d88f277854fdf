import { readTables } from '../../src/exchange/read/tables';
import type { Survey } from '../../src/survey/survey';

/** The seed that the command line reads tables with, so that both forms of the demo carry the same ids. */
const TABLE_SEED = 'tables';
const TABLES = ['positions.csv', 'readings.csv', 'remotes.csv'];

/** The demo as a survey document: read from its own tables, with what tables have no place for. */
export function surveyForm(files: Readonly<Record<string, string>>, siteName: string): string {
  const tables = TABLES.map((name) => ({ name, bytes: new TextEncoder().encode(files[name] ?? '') }));
  const { survey, notes } = readTables(tables, { seed: TABLE_SEED, siteName });
  if (!survey) throw new Error(notes.map(({ sentence }) => sentence).join('\n'));
  const told: Survey = {
    ...survey,
    site: {
      ...survey.site,
      invented: true,
      time_zone: 'America/Chicago',
      notes: 'An invented site over an invented passage. Nothing of it is real ground.',
    },
    outings: survey.outings.map((outing) => ({ ...outing, date: outing.name })),
  };
  return `${JSON.stringify(told, null, 1)}\n`;
}
