import type { Survey } from '../survey/survey';
import { type Carrier, callOf, type Leak } from './leak';
import type { Telling } from './telling';
import { type SharedText, textsOf } from './texts';

const LONGEST_QUOTE = 80;

/** Texts of a redacted record that name a hidden feature, or say its coordinates. */
export function textLeaks(shown: Survey, { tells }: Telling): readonly Leak[] {
  const found = new Map<string, Leak>();
  for (const text of textsOf(shown)) {
    for (const { feature } of tells(text.text)) {
      const id = `named:${text.key}:${feature.id}`;
      if (found.has(id)) continue;
      const quote = text.text.length > LONGEST_QUOTE ? `${text.text.slice(0, LONGEST_QUOTE)}…` : text.text;
      found.set(id, {
        id,
        kind: 'named',
        feature: feature.id,
        sentence: `${text.where} says “${quote}”, which tells of ${callOf(feature)}.`,
        ...settledBy(text),
      });
    }
  }
  return [...found.values()];
}

function settledBy({ key }: SharedText): { readonly remedy: string; readonly carrier: Carrier } {
  const [kind, ...rest] = key.split(':');
  if (kind === 'feature') {
    return {
      remedy: 'Withholding leaves the feature out.',
      carrier: { kind: 'feature', feature: rest.join(':') as Extract<Carrier, { kind: 'feature' }>['feature'] },
    };
  }
  const remedy =
    kind === 'photo' || kind === 'settlement' ? 'Withholding leaves it out.' : 'Withholding takes the text out.';
  return { remedy, carrier: { kind: 'text', text: key } };
}
