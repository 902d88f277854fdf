import type { PlaceAt } from '../../../exchange/read/match-names';
import type { FilePlaces, NamedPlace } from '../../../exchange/read/places-map';
import type { UnderstoodPlace } from '../../../exchange/read/understood-places';
import { typedNumber } from '../../state/typed-value';

/*
 * Which place of a line a named point is, as a person types it: "e24", "12.5 m", "start", "end", "remote B".
 */

/** A place of a line as text; empty for none. */
export function placeText(at: PlaceAt | null): string {
  if (at === null) return '';
  switch (at.kind) {
    case 'electrode':
      return `e${at.electrode}`;
    case 'chainage':
      return `${at.chainageM} m`;
    case 'remote':
      return `remote ${at.role}`;
    default:
      return at.kind;
  }
}

/** What was typed as a place of a line, without its line; null when it is none. */
export function placeFrom(text: string): Omit<NamedPlace, 'line'> | null {
  const t = text.trim().toLowerCase();
  if (t === 'start' || t === 'end') return { at: t };
  const role = /^(?:remote\s*)?([abmn])$/.exec(t)?.[1];
  if (role !== undefined) return { remote: role.toUpperCase() as NonNullable<NamedPlace['remote']> };
  const electrode = /^(?:e|electrode|no\.?|#)\s*(\d{1,5})$/.exec(t)?.[1];
  if (electrode !== undefined) return Number(electrode) >= 1 ? { electrode: Number(electrode) } : null;
  const metres = typedNumber(t.replace(/\s*m$/, ''));
  return metres.ok ? { chainage_m: metres.value } : null;
}

/** The map with another word on one name; null leaves it out. */
export function withName(before: FilePlaces, key: string, place: NamedPlace | null): FilePlaces {
  return { ...before, names: { ...before.names, [key]: place } };
}

/** The map with another step or number of electrodes, as typed; blank or no number takes it back. */
export function withCount(before: FilePlaces, what: 'step_m' | 'electrodes', text: string): FilePlaces {
  const { [what]: _, ...others } = before;
  const typed = typedNumber(text);
  const value = typed.ok ? typed.value : Number.NaN;
  const isOne =
    what === 'step_m' ? value > 0 && value <= 10_000 : Number.isInteger(value) && value >= 2 && value <= 10_000;
  return isOne ? { ...others, [what]: value } : others;
}

/** What a person's words on one row come to; undefined while they say too little. */
export function typedPlace(
  kind: UnderstoodPlace['kind'],
  lineText: string,
  atText: string,
): NamedPlace | null | undefined {
  const line = lineText.trim();
  if (line === '' && atText.trim() === '') return null;
  if (kind !== 'point') return line === '' ? null : { line };
  const at = placeFrom(atText);
  if (at === null) return undefined;
  if (line === '') return at.remote === undefined ? undefined : at;
  return { line, ...at };
}
