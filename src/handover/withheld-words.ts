import type { Disclosed, Withheld } from '../discretion/disclose';
import { counted } from '../survey/wording';

/** What a share leaves out and why, in sentences; one that says so where it leaves nothing out. */
export function withheldSentences({ audience, withheld }: Disclosed): readonly string[] {
  if (withheld.length > 0) return withheld.map(sentenceOf);
  return audience === 'surveyor'
    ? ['Nothing: this copy holds every place exactly. It is not for passing on.']
    : ['Nothing had to be left out for this audience.'];
}

function sentenceOf({ subject, count, how, gridM, rule, reason }: Withheld): string {
  const what =
    subject === 'time' ? counted(count, 'time of day', 'times of day') : counted(count, subject.replaceAll('_', ' '));
  const why = `${rule === 'none' ? '' : `${rule}: `}${reason}`;
  if (how === 'generalised')
    return `${what} shown by squares of ${gridM} m only, the true place anywhere in the square (${why}).`;
  if (how === 'accepted')
    return `A ${subject.replaceAll('_', ' ')} may tell of a protected place and was kept (${why}).`;
  return `${what} left out (${why}).`;
}
