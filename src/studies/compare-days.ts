import type { Survey } from '../survey/survey';

/** First and last day of a survey's readings, ISO 8601. */
export interface DaySpan {
  readonly first: string;
  readonly last: string;
}

/** How the days of two surveys lie to each other. `reversed`: the one that was called the earlier is the later one. */
export type DayOrder =
  | { readonly kind: 'not_known' }
  | { readonly kind: 'as_said' | 'reversed' | 'overlapping'; readonly before: DaySpan; readonly after: DaySpan };

export function dayOrder(before: DaySpan | null, after: DaySpan | null): DayOrder {
  if (!before || !after) return { kind: 'not_known' };
  const kind = before.last < after.first ? 'as_said' : after.last < before.first ? 'reversed' : 'overlapping';
  return { kind, before, after };
}

const DATE = /^\d{4}-\d{2}-\d{2}/;

/** Null where neither an outing nor a reading says when it was. */
export function daySpan({ outings, readings }: Survey): DaySpan | null {
  let span: DaySpan | null = null;
  const take = (time: string | null | undefined): void => {
    const day = DATE.exec(time ?? '')?.[0];
    if (day === undefined) return;
    if (!span) span = { first: day, last: day };
    else if (day < span.first) span = { ...span, first: day };
    else if (day > span.last) span = { ...span, last: day };
  };
  const read = new Set(readings.map(({ outing }) => outing));
  for (const { id, date, retired } of outings) if (!retired && read.has(id)) take(date);
  for (const { time, status } of readings) if (status !== 'rejected') take(time);
  return span;
}
