import { useEffect } from 'react';
import '../../../../styles/backdrop.css';
import type { SurveyMap } from '../../../map/survey-map';
import { backdropChoice, useBackdropChoice } from '../../backdrop/backdrop-choice';
import { backdrops, useBackdrops } from '../../backdrop/backdrops';

/** The backdrop on the map, with whose it is; and the question for a place, while one is asked for. */
export function BackdropDrawn({ map }: { map: SurveyMap }) {
  const { picking } = useBackdropChoice();
  const { shown, said } = useBackdrops();

  useEffect(() => void backdrops.load(), []);
  useEffect(() => map.showBackdrop(shown, backdrops.missed), [map, shown]);
  useEffect(() => () => map.showBackdrop(null), [map]);

  const cancel = () => {
    backdropChoice.pick(null);
    picking?.onCancel();
  };
  return (
    <>
      {picking && (
        <div className="backdrop-picking" role="status">
          <p>{picking.words}</p>
          <button type="button" className="line-button" onClick={cancel}>
            Cancel
          </button>
        </div>
      )}
      {shown && (
        <p className="backdrop-credit">
          {shown.kept.attribution || shown.kept.name}
          {said !== null && <span className="backdrop-said">{said}</span>}
        </p>
      )}
    </>
  );
}
