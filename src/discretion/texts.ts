import { featureTypeOf } from '../survey/feature-type';
import type { Survey } from '../survey/survey';

/** A text that a share would hold. */
export interface SharedText {
  /** Where it stands, as cuts name it. */
  readonly key: string;
  /** The same for a person. */
  readonly where: string;
  readonly text: string;
}

/** Ids and keys as this program makes them say nothing. */
const MADE_ID = /^(?:[a-z_]+:)?[a-z]+-[0-9a-z]{16}(?::-?\d*)*(?::[a-z_]*)?$/;
/** A short word in small letters: codes of hookups, units, kinds. */
const CODE = /^[a-z_]{1,24}$/;
const DATE = /^\d{4}-\d\d(-\d\d(T[\d:.+Z-]*)?)?$/;
/** Where people write what they like, so that even a short word may be a name. */
const FREE: ReadonlySet<string> = new Set([
  ...[
    '',
    'id',
    'name',
    'note',
    'notes',
    'source',
    'subject',
    'why',
    'by',
    'weather',
    'recent_rain',
    'people',
    'serial',
  ],
  ...['status_reason', 'external_id', 'seatings', 'device', 'as_entered', 'cites', 'target', 'reviewer', 'from'],
  ...['confidentiality', 'review_status', 'line', 'outing', 'base_line', 'serves', 'lineId', 'lines', 'outings', 'key'],
]);

/** Whether a string of a record could say anything to a person. */
export function isProse(key: string, text: string): boolean {
  if (text.length < 3 || MADE_ID.test(text) || DATE.test(text) || text.startsWith('EPSG:')) return false;
  if (key === 'type') return featureTypeOf(text) === null && !CODE.test(text);
  return FREE.has(key) || !CODE.test(text);
}

/** Calls with every string of a record, at any depth. */
export function eachString(value: unknown, key: string, visit: (text: string) => void): void {
  if (typeof value === 'string') {
    if (isProse(key, value)) visit(value);
  } else if (Array.isArray(value)) {
    for (const each of value) eachString(each, key, visit);
  } else if (typeof value === 'object' && value !== null) {
    for (const name in value) eachString((value as Record<string, unknown>)[name], name, visit);
  }
}

const WHERE = {
  outings: ['outing', 'An outing'],
  lines: ['line', 'The name of a line, or what was written of its path,'],
  readings: ['reading', 'The note of a reading'],
  references: ['reference', 'The name of a reference'],
  surroundings: ['surrounding', 'Something in the surroundings'],
  features: ['feature', 'A feature that would be shown'],
  photos: ['photo', 'What a photo is of'],
  settlements: ['settlement', 'Why a doubt was settled'],
} as const;

/** Collections and how keys of texts call them. */
export const KIND_OF = (Object.keys(WHERE) as (keyof typeof WHERE)[]).map(
  (collection) => [collection, WHERE[collection][0]] as const,
);

/** All texts of a record that was redacted already but for what a person decides: what its readers would read. */
export function* textsOf(shown: Survey): Generator<SharedText> {
  const { site } = shown;
  const { name, notes, ...rest } = site;
  yield* ofOne('site.name', 'The name of the site', name);
  yield* ofOne('site.notes', 'The notes of the site', notes);
  yield* ofOne('site', 'What is said of the site', rest);
  for (const collection of Object.keys(WHERE) as (keyof typeof WHERE)[]) {
    const [kind, where] = WHERE[collection];
    for (const entity of shown[collection]) yield* ofOne(`${kind}:${entity.id}`, where, entity);
  }
}

function* ofOne(key: string, where: string, value: unknown): Generator<SharedText> {
  const texts: string[] = [];
  eachString(value, '', (text) => texts.push(text));
  for (const text of new Set(texts)) yield { key, where, text };
}
