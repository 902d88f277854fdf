import { useEffect, useState } from 'react';
import type { MapPlaces, SurveyMap } from '../../../map/survey-map';
import { placeText } from '../../../position/coordinate-format';
import { useApp, useAppState } from '../../app-context';
import { aheadWords } from '../../words/leg-words';

/** No digit is finer than a pixel. */
const PIXELS_OF_ACCURACY = 3;
/** A screen that is touched has no pointer that rests: its middle is marked instead. */
const TOUCHED = '(pointer: coarse)';

/** Coordinates under the pointer, or under the cross in the middle of a screen that is touched. */
export function PlaceReadout({ map }: { map: SurveyMap }) {
  const { store } = useApp();
  const asked = useAppState(({ layout }) => layout.task === 'place');
  const ahead = useAppState(({ layout }) =>
    layout.task === 'draw' && layout.sketch ? aheadWords(layout.sketch) : null,
  );
  const form = useAppState(({ layout }) => layout.coordinateForm);
  const [places, setPlaces] = useState<MapPlaces | null>(null);
  const touched = matchMedia(TOUCHED).matches;

  useEffect(() => map.watchPlaces(setPlaces), [map]);

  const crossed = touched || asked;
  const place = crossed ? places?.middle : (places?.pointer ?? places?.middle);
  if (!place) return null;
  const text = placeText(place, form, PIXELS_OF_ACCURACY * place.metresPerPixel);
  const marksMiddle = crossed || !places?.pointer;
  return (
    <>
      {marksMiddle && (
        <svg className="map-cross" viewBox="0 0 40 40" aria-hidden="true">
          <path d="M20 2v13M20 25v13M2 20h13M25 20h13" />
        </svg>
      )}
      <p className="map-place">
        <span className="unseen">{marksMiddle ? 'Middle of the map: ' : 'Under the pointer: '}</span>
        {text.ok ? text.value : text.sentence}
        {ahead && <span className="map-leg">{ahead}</span>}
      </p>
      {asked && places && (
        <button
          type="button"
          className="line-button strong-button take-cross"
          onClick={() => store.dispatch({ type: 'layout', layout: { placed: places.middle } })}
        >
          Take this place
        </button>
      )}
    </>
  );
}
