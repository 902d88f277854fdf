import type { Collection } from '../../../survey/commit';
import type { MergeConflict, Taken } from '../../../survey/merge-surveys';
import { shownAs } from '../../../survey/shown';
import type { Feature, Line, Outing, Reading, Survey } from '../../../survey/survey';
import { counted, metres } from '../../../survey/wording';
import { wallWords } from '../../../wall-clock';
import { lineWords } from '../../words/line-words';

const ONE: Record<Collection | 'site', readonly [string, string?]> = {
  site: ['site'],
  outings: ['outing'],
  lines: ['line'],
  readings: ['reading'],
  references: ['reference'],
  surroundings: ['thing nearby', 'things nearby'],
  features: ['feature'],
  photos: ['photo'],
  settlements: ['settled doubt'],
};

const ORDER = Object.keys(ONE) as (Collection | 'site')[];

/** "12 readings, 1 line" of what is taken; empty where nothing is. */
export function takenWords(taken: readonly Taken[], isOne: (taken: Taken) => boolean): string {
  const counts = new Map<string, number>();
  for (const each of taken) if (isOne(each)) counts.set(each.collection, (counts.get(each.collection) ?? 0) + 1);
  return ORDER.flatMap((collection) => {
    const count = counts.get(collection);
    return count ? [counted(count, ...(ONE[collection] as [string, string?]))] : [];
  }).join(', ');
}

/** What was written down differently: "Line L1, 5 m, spacing 2 m". */
export function conflictTitle({ collection, mine }: MergeConflict, survey: Survey): string {
  switch (collection) {
    case 'readings': {
      const { line, midpoint_m: midpoint, spacing_m: spacing } = mine as Reading;
      const name = survey.lines.find(({ id }) => id === line)?.name ?? '';
      const place = typeof midpoint === 'number' ? `, ${metres(midpoint)}` : '';
      return `Reading: ${lineWords(name)}${place}${typeof spacing === 'number' ? `, spacing ${metres(spacing)}` : ''}`;
    }
    case 'lines':
      return lineWords((mine as Line).name);
    case 'outings':
      return `Outing ${(mine as Outing).name}`;
    case 'site':
      return 'The site itself';
    case 'features':
      return `Feature ${(mine as Feature).name ?? (mine as Feature).type}`;
    default: {
      const name = (mine as { readonly name?: string | null }).name;
      return `A ${ONE[collection][0]}${name ? `: ${name}` : ''}`;
    }
  }
}

/** One version as a person would say it in a line; null where only its keys say it. */
export function versionWords({ collection }: MergeConflict, version: MergeConflict['mine']): string | null {
  if (collection === 'readings') {
    const reading = version as Reading;
    return `${shownAs(reading)}${reading.retired ? ', taken out' : ''}${reading.note ? ` (${reading.note})` : ''}`;
  }
  if ('retired' in version && version.retired) return 'taken out';
  return null;
}

const KEY_UNITS: Readonly<Record<string, string>> = { m: 'm', deg: '°', ohm: 'Ω', ma: 'mA' };

/** A key of the record as words, with the unit of its number. */
export const keyWords = (key: string): string =>
  key.replace(/_(m|deg|ohm|ma)$/, (_, unit: string) => ` (${KEY_UNITS[unit]})`).replaceAll('_', ' ');

/** A value of a key in few words. */
export function valueWords(value: unknown): string {
  if (value === undefined || value === null) return 'not said';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value)) {
    return value.every((each) => typeof each !== 'object')
      ? value.join(', ') || 'none'
      : counted(value.length, 'entry', 'entries');
  }
  if (typeof value === 'object') {
    return Object.entries(value)
      .filter(([, part]) => part !== null && typeof part !== 'object')
      .map(([key, part]) => `${keyWords(key)} ${String(part)}`)
      .join(', ');
  }
  return String(value);
}

/** Who changed a version last, and when; empty for one that nobody changed. */
export function whoWords({ revised: { at, by, count } }: MergeConflict['mine']): string {
  if (!at) return '';
  const when = new Date(at);
  const day = Number.isNaN(when.getTime()) ? at : wallWords(when);
  return `${count === 0 ? 'entered' : 'changed'} ${day}${by && by !== 'this device' ? ` by ${by}` : ''}`;
}
