import { foldedName } from '../karst/names';
import type { FeatureId } from '../survey/ids';
import type { Feature, Survey } from '../survey/survey';
import { type Audience, isOutside } from './audience';

/** A text that a share would hold. */
export interface SharedText {
  /** Where it stands, as cuts name it. */
  readonly key: string;
  /** The same for a person. */
  readonly where: string;
  readonly text: string;
  readonly remedy: string;
  /** The feature that it belongs to, which goes as a whole. */
  readonly feature: FeatureId | null;
  /** Whether it names a feature: by its name, by the words of it that are its own, or by its number in a list. */
  names(feature: Feature): boolean;
}

/** Words that many places share and that name none of them. */
const COMMON = new Set(
  foldedWords(
    'cave caves cavern entrance hole pit shaft sink sinkhole spring doline ponor swallow estavelle grotte hohle schacht quelle doline cueva sima пещера воронка провал the of der die das la le el de am im an upper lower big small old new north south east west site line karst',
  ),
);
/** Shorter words name nothing by themselves. */
const SHORTEST_WORD = 4;

function foldedWords(text: string): string[] {
  return foldedName(text.slice(0, 80)).split(' ').filter(Boolean);
}

/** All texts of the record that an audience would see, but for those of hidden features. */
export function textsOf(survey: Survey, audience: Audience, hidden: ReadonlySet<string>): readonly SharedText[] {
  const outside = isOutside(audience);
  const texts: SharedText[] = [];
  const add = (
    key: string,
    where: string,
    parts: readonly (string | null | undefined)[],
    remedy = 'Withholding replaces it.',
    feature: FeatureId | null = null,
  ): void => {
    const text = parts.filter((part) => typeof part === 'string' && part !== '').join(' · ');
    if (text !== '') texts.push({ key, where, text, remedy, feature, names: namesIn(text) });
  };
  const { site } = survey;
  add('site.name', 'The name of the site', [site.name]);
  if (!outside) add('site.notes', 'The notes of the site', [site.notes], 'Withholding empties them.');
  for (const line of survey.lines) add(`line:${line.id}`, 'The name of a line', [line.name]);
  for (const reference of survey.references)
    add(`reference:${reference.id}`, 'The name of a reference', [reference.name]);
  for (const feature of survey.features) {
    if (hidden.has(feature.id)) continue;
    const own = outside
      ? [feature.name, feature.source]
      : [feature.name, feature.source, feature.note, feature.external_id];
    add(
      `feature:${feature.id}`,
      'A feature that would be shown',
      own,
      'Withholding leaves the feature out.',
      feature.id,
    );
  }
  if (outside) return texts;
  for (const outing of survey.outings) {
    add(`outing:${outing.id}`, 'The name of an outing', [outing.name]);
  }
  for (const reading of survey.readings) {
    add(
      `reading:${reading.id}`,
      'The note of a reading',
      [reading.note, reading.status_reason],
      'Withholding empties it.',
    );
  }
  for (const each of survey.surroundings) {
    add(`surrounding:${each.id}`, 'Something in the surroundings', [each.name, each.note], 'Withholding empties it.');
  }
  for (const photo of survey.photos) {
    add(`photo:${photo.id}`, 'What a photo is of', [photo.subject], 'Withholding leaves the photo out.');
  }
  for (const { id, why } of survey.settlements) {
    add(`settlement:${id}`, 'Why a doubt was settled', [why], 'Withholding leaves it out.');
  }
  return texts;
}

function namesIn(text: string): (feature: Feature) => boolean {
  // Only as much of a text is folded as a name is compared by, piece by piece, so that long notes are read whole.
  const words = new Set<string>();
  for (let at = 0; at < text.length; at += 60) for (const word of foldedWords(text.slice(at, at + 80))) words.add(word);
  return ({ name, external_id: externalId }) => {
    const own = name ? foldedWords(name) : [];
    const telling = own.filter((word) => word.length >= SHORTEST_WORD && !COMMON.has(word));
    if (telling.some((word) => words.has(word))) return true;
    // A name of common or short words is told only as a whole.
    if (telling.length === 0 && own.length > 1 && own.every((word) => words.has(word))) return true;
    const number = externalId ? foldedWords(externalId).join(' ') : '';
    return number.length >= SHORTEST_WORD && words.has(number);
  };
}
