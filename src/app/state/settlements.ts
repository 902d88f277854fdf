import type { Settlement, Survey } from '../../survey/survey';

const known = new WeakMap<Survey['settlements'], ReadonlyMap<string, Settlement>>();

/** What people have decided about doubts, by the doubt's id. */
export function settlementsByDoubt({ settlements }: Pick<Survey, 'settlements'>): ReadonlyMap<string, Settlement> {
  const had = known.get(settlements);
  if (had) return had;
  const made = new Map(settlements.filter(({ retired }) => !retired).map((one) => [one.doubt, one]));
  known.set(settlements, made);
  return made;
}
