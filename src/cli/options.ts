import { parseArgs } from 'node:util';
import { faultOf } from './faults';

/** Lines of `--help` that are the same for every verb. */
export const SURVEY_HELP =
  '  SURVEY              a *.survey.json, a folder with positions.csv and readings.csv, or one table';
export const COLUMNS_HELP =
  '  --columns MAP.json  how to read tables with other headers; the app saves such a file on import';
export const JSON_HELP = '  --json              one JSON document for other programs, in place of text';

type Definitions = NonNullable<Parameters<typeof parseArgs>[0]>['options'];

/** The arguments of a verb; a slip is one line on stderr and exit code 2. */
export function parsed<T extends NonNullable<Definitions>>(args: readonly string[], options: T) {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true, strict: true });
  } catch (error) {
    const [why] = (error as Error).message.split('\n');
    throw faultOf('arguments', '1', args.join(' '), `other options: ${why}`);
  }
}

/** Exactly one positional argument. */
export function onePath(positionals: readonly string[], what: string): string {
  const [path, ...rest] = positionals;
  if (path === undefined || rest.length > 0) {
    throw faultOf('arguments', '1', positionals.join(' '), `one ${what}`);
  }
  return path;
}

/** One of some words; codes are snake_case, and hyphens are accepted. */
export function oneOf<T extends string>(
  given: string | undefined,
  words: readonly T[],
  option: string,
  otherwise: T,
): T {
  if (given === undefined) return otherwise;
  const word = words.find((candidate) => candidate === given.replaceAll('-', '_'));
  if (word === undefined) {
    throw faultOf('arguments', option, given, `one of ${words.join(', ')}`);
  }
  return word;
}
