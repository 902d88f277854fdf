import { readPlaceText, type TextHints } from '../../../position/coordinate-text';
import type { TiedPoint } from '../../backdrop/tied-point';
import { typedNumber } from '../../state/typed-value';
import { latLonWords } from '../../words/position-words';

export interface TieFieldsProps {
  readonly number: number;
  readonly point: TiedPoint;
  readonly isNext: boolean;
  readonly hints: TextHints;
  readonly onChange: (point: TiedPoint) => void;
  readonly onChoose: () => void;
  readonly onMap: () => void;
}

/** One tied point: its dot on the picture, tapped or typed, and its place on the ground, typed or tapped on the map. */
export function TieFields({ number, point, isNext, hints, onChange, onChoose, onMap }: TieFieldsProps) {
  const { dot, place } = point;
  const read = place.trim() === '' ? null : readPlaceText(place, hints);
  const dotSaid = (axis: 'xPx' | 'yPx') => (text: string) => {
    const typed = typedNumber(text);
    if (typed.ok) onChange({ ...point, dot: { xPx: 0, yPx: 0, ...dot, [axis]: typed.value } });
  };
  return (
    <fieldset className="tie" data-next={isNext}>
      <legend>
        <label className="tick">
          <input type="radio" name="tie" checked={isNext} onChange={onChoose} />
          <span>Point {number}</span>
        </label>
      </legend>
      <div className="tie-dots">
        {(['xPx', 'yPx'] as const).map((axis) => (
          <label key={axis}>
            <span>{axis === 'xPx' ? 'Dots from the left' : 'Dots from the top'}</span>
            <input
              type="text"
              inputMode="decimal"
              autoComplete="off"
              // Made anew when a tap has moved the dot.
              key={dot?.[axis]}
              defaultValue={dot?.[axis] ?? ''}
              placeholder="tap the picture"
              onBlur={(event) => dotSaid(axis)(event.target.value)}
            />
          </label>
        ))}
      </div>
      <label className="tie-place">
        <span>Coordinates</span>
        <input
          type="text"
          autoComplete="off"
          value={place}
          onChange={(event) => onChange({ ...point, place: event.target.value })}
        />
      </label>
      <p className="row-actions">
        <button type="button" className="line-button" onClick={onMap}>
          Tap point {number} on the map
        </button>
        <span role="status">
          {read?.ok ? latLonWords(read.value.lonLat.lon, read.value.lonLat.lat) : (read?.sentence ?? '')}
        </span>
      </p>
    </fieldset>
  );
}
