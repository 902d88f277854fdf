import { layoutOf } from '../../ground/layout';
import { readPlaceText, type TextHints } from '../../position/coordinate-text';
import type { Hookup } from '../../survey/hookup';
import { done, type Outcome } from '../../survey/outcome';
import type { Position, Remote } from '../../survey/survey';
import { typedPlace } from '../state/typed-place';

export type RemoteRole = Remote['role'];

export const REMOTE_WORDS: Record<RemoteRole, string> = {
  A: 'Remote current electrode (A)',
  B: 'Remote current electrode (B)',
  M: 'Remote potential electrode (M)',
  N: 'Remote potential electrode (N)',
};

/** Which electrodes of a hookup stand far away. */
export function remoteRolesOf(hookup: Hookup | null): readonly RemoteRole[] {
  const layout = hookup && layoutOf({ hookup, midpointM: 0, spacingM: 1 });
  if (!layout?.ok) return [];
  const roles = [
    ['A', layout.value.a],
    ['B', layout.value.b],
    ['M', layout.value.m],
    ['N', layout.value.n],
  ] as const;
  return roles.flatMap(([role, chainage]) => (chainage === null ? [role] : []));
}

/** A place as it can be typed again. */
export function placeText({ x, y, crs, as_entered: entered }: Position): string {
  if (entered && entered.length > 0) return entered.join('; ');
  return crs === 'EPSG:4326' ? `${y}, ${x}` : `${crs.startsWith('grid:') ? '' : `${crs} `}${x} ${y}`;
}

/** What a form holds of one remote: the words in its field, and the place that they stand for where that is known. */
export interface RemoteEntry {
  readonly role: RemoteRole;
  readonly text: string;
  /** Averaged from fixes, or of the record: kept whole while its words are not typed over. */
  readonly position: Position | null;
}

/**
 * The remotes of an outing from its form; an empty field is one taken as infinitely far. Remotes of other roles stay as
 * they were. Refusals: those of `typedPlace`, with the name of the electrode before it.
 */
export function remotesSaid(
  entries: readonly RemoteEntry[],
  before: readonly Remote[],
  hints: TextHints,
): Outcome<readonly Remote[]> {
  const remotes: Remote[] = before.filter(({ role }) => entries.every((entry) => entry.role !== role));
  for (const { role, text, position } of entries) {
    const was = before.find((remote) => remote.role === role);
    if (text.trim() === '') continue;
    if (position && text === placeText(position)) {
      remotes.push({ ...was, role, position });
      continue;
    }
    const typed = typedPlace(text, '', hints);
    if (!typed.ok) return { ...typed, sentence: `${REMOTE_WORDS[role]}: ${typed.sentence}` };
    remotes.push({ ...was, role, position: typed.value });
  }
  return done(remotes);
}

/** How words in a field are understood; null while they are none. */
export const understood = (text: string, hints: TextHints) => (text.trim() === '' ? null : readPlaceText(text, hints));
