import { CHANGE_RAMP } from '../../../map/change-layers';
import type { ChangeVerdict, MatchedReading } from '../../../studies/compare';
import { useAppState } from '../../app-context';
import { useTheme } from '../../theme';
import { RampSwatch } from '../RampSwatch';

const WORDS: readonly (readonly [ChangeVerdict, string])[] = [
  ['higher_than_before', 'higher than before, beyond chance'],
  ['lower_than_before', 'lower than before, beyond chance (outlined)'],
  ['no_change_shown', 'no change shown, which is not no change'],
  ['hint', 'a two-probe hint, or nothing to compare'],
];

/** What the strokes on the map mean while surveys are compared. */
export function ChangeLegend({ matched }: { matched: readonly MatchedReading[] }) {
  const theme = useTheme(useAppState((state) => state.theme));
  const shown = new Set<ChangeVerdict>(matched.map(({ verdict }) => (verdict === 'not_comparable' ? 'hint' : verdict)));
  return (
    <>
      <h3>On the map now</h3>
      <ul className="legend">
        {WORDS.filter(([verdict]) => shown.has(verdict)).map(([verdict, words]) => (
          <li key={verdict}>
            <RampSwatch ramp={CHANGE_RAMP[verdict]} theme={theme} />
            <span>{words}</span>
          </li>
        ))}
        <li>
          <svg className="swatch" width="36" height="16" aria-hidden="true">
            <line className="swatch-line" x1="0" x2="36" y1="8" y2="8" />
          </svg>
          <span>the line alone: no counterpart in the earlier survey</span>
        </li>
      </ul>
    </>
  );
}
