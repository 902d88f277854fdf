import { UNSAID_R95_M } from '../../position/accuracy';
import { readPlaceText, type TextHints } from '../../position/coordinate-text';
import { done, type Outcome, refuse } from '../../survey/outcome';
import type { Position } from '../../survey/survey';
import { typedNumber } from './typed-value';

/**
 * The circle round the middle of a square that holds 95 % of it has this share of its side as radius (from the areas of
 * a circle and of the four segments that the square cuts off).
 */
const R95_OF_SQUARE = 0.6;

/**
 * A place typed in any spelling, with its accuracy where that was typed too (95 % radius, metres).
 * A grid reference that names a wide square is as unsure as that square.
 * Refusals: those of `readPlaceText`, `typedNumber`, `accuracy_not_positive`.
 */
export function typedPlace(text: string, accuracyText: string, hints: TextHints): Outcome<Position> {
  const place = readPlaceText(text, hints);
  if (!place.ok) return place;
  const { x, y, crs, asEntered, cellM } = place.value;
  const typed = accuracyText.trim() === '' ? null : typedNumber(accuracyText);
  if (typed && !typed.ok) return typed;
  if (typed && !(typed.value > 0)) {
    return refuse('accuracy_not_positive', 'The accuracy is the radius that holds the place, in metres: more than 0.');
  }
  const squareM = (cellM ?? 0) * R95_OF_SQUARE;
  const said = typed?.value ?? (squareM > 1 ? UNSAID_R95_M : null);
  return done({
    x,
    y,
    crs,
    ...(asEntered ? { as_entered: [...asEntered] } : {}),
    ...(said === null ? {} : { accuracy_m: Number(Math.hypot(said, squareM).toFixed(2)), accuracy_level: 95 }),
    source: 'typed',
  });
}
