import { datumUncertaintyOf } from '../../position/crs';
import { datumOf } from '../../position/datum';
import type { PathItem } from '../../survey/survey';
import { metres, nameList } from '../../survey/wording';
import { doubtAbout, type FindDoubts } from './doubt-context';

/** Up to this a phone would not notice. */
const SLIGHT_M = 2;

function codesOf(item: PathItem): readonly string[] {
  if (item.retired) return [];
  if (item.kind === 'two_tapes') return [item.first.crs, item.second.crs];
  return item.kind === 'fix' || item.kind === 'bearing' ? [item.position.crs] : [];
}

/** Placed points of one line on different datums: what tells them apart is then the datum too, not only the ground. */
export const datumMixed: FindDoubts = ({ line }) => {
  const codes = [...new Set(line.path.flatMap(codesOf))];
  const datums = new Map<string, number>();
  for (const code of codes) {
    const datum = datumOf(code);
    if (datum !== null) datums.set(datum, Math.max(datums.get(datum) ?? 0, datumUncertaintyOf(code)));
  }
  const apartM = Math.max(0, ...datums.values());
  if (datums.size < 2 || apartM === 0) return [];
  return [
    doubtAbout({
      code: 'datum_mixed',
      severity: apartM > SLIGHT_M ? 'warning' : 'note',
      line: line.id,
      sentence: `Line ${line.name} has points in different datums (${nameList([...datums.keys()])}), which may lie ${metres(apartM)} apart though they mean one place.`,
      remedy: 'Give all points of the line in one system, as the device or the map showed them, or convert them first.',
    }),
  ];
};
