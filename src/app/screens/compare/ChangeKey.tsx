import '../../../../styles/compare.css';
import type { Theme } from '../../../map/ramp';
import type { Compared } from '../../compare/compared';
import { RampSwatch } from '../RampSwatch';

/** In the key of the map, in place of the ramp: what strokes mean while surveys are compared. */
export function ChangeKey({ compared, theme }: { compared: Compared; theme: Theme }) {
  return (
    <>
      <p className="change-since">
        <strong>Change since {compared.earlier}</strong>
      </p>
      <p className="ramp-strip">
        <span>lower</span>
        <RampSwatch ramp="clear_below" theme={theme} lengthPx={24} />
        <RampSwatch ramp="none" theme={theme} lengthPx={24} />
        <RampSwatch ramp="clear_above" theme={theme} lengthPx={24} />
        <span>higher</span>
      </p>
    </>
  );
}
