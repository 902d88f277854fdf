import { useEffect, useRef } from 'react';
import { boundsOfPlaces, EMPTY_COLLECTION } from '../../../map/picture';
import type { SurveyMap } from '../../../map/survey-map';
import { here, useHere } from '../../field/position/here';
import { hereDrawn } from '../../field/position/here-drawn';
import { useScreenAwake } from '../../field/wake-lock';
import type { Content } from '../../state/app-state';
import { HereWords } from './HereWords';

/** Where one is, drawn and said on the map; without a map only said. */
export function HereNote({ map, content }: { map: SurveyMap | null; content: Content }) {
  const state = useHere();
  const { position, target } = state;
  const awake = useScreenAwake();

  useEffect(() => map?.showHere(hereDrawn(state)), [map, state]);
  useEffect(() => () => map?.showHere(EMPTY_COLLECTION), [map]);

  // The first fix, and the way to another target, are brought into sight; after that the map is the person's.
  const fix = useRef(position.kind === 'seen' ? position.fix : null);
  fix.current = position.kind === 'seen' ? position.fix : null;
  const seen = position.kind === 'seen';
  useEffect(() => {
    if (!map || !seen || !fix.current) return;
    const { lon, lat } = fix.current;
    const bounds = target && boundsOfPlaces([fix.current, target]);
    if (bounds) map.frame(bounds);
    else map.reveal(lon, lat);
  }, [map, seen, target]);

  return (
    <div className="here-note">
      <HereWords content={content} onMap />
      {awake.kind === 'refused' && <p className="here-small">The screen will go dark by itself.</p>}
      {position.kind === 'refused' && (
        <button type="button" className="line-button" onClick={here.show}>
          Ask again
        </button>
      )}
      {target && (
        <button type="button" className="line-button end-way" aria-label="End the way" onClick={here.arrive}>
          End
        </button>
      )}
    </div>
  );
}
