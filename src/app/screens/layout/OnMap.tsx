import { useEffect, useRef } from 'react';
import { placeText } from '../../../position/coordinate-format';
import { wallTime } from '../../../wall-clock';
import { useApp, useAppState } from '../../app-context';
import { drawnAccuracy95M, pointedPosition } from '../../state/map-accuracy';
import { lengthWords } from '../../words/layout-words';
import { AskForm } from './AskForm';
import { Corner } from './Corner';
import { Field } from './Field';
import { fixSaid, isCorner } from './fix-said';
import type { WayProps } from './PointForm';
import { showEnd } from './scroll-in-margin';

/** The point is where the map is tapped. */
export function OnMap({ content, before, chainageText, action, onItem, onCancel }: WayProps) {
  const { store } = useApp();
  const placed = useAppState(({ layout }) => layout.placed);
  const form = useAppState(({ layout }) => layout.coordinateForm);
  const drawn95M = drawnAccuracy95M(content.findings);
  const position = placed ? pointedPosition(placed, drawn95M, '') : null;
  const text = placed && position ? placeText(placed, form, position.accuracy_m ?? undefined) : null;

  useEffect(() => {
    store.dispatch({ type: 'layout', layout: { task: 'place' } });
    return () => store.dispatch({ type: 'layout', layout: { task: null, placed: null } });
  }, [store]);

  // On a small screen the sheet has made room for the map: what is left of it shows how to go on.
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (!placed) return;
    const later = requestAnimationFrame(() => showEnd(place.current));
    return () => cancelAnimationFrame(later);
  }, [placed]);

  return (
    <div ref={place}>
      <AskForm
        label="On the map"
        action={action}
        onCancel={onCancel}
        onSaid={(said) => {
          if (!placed) return 'Tap the map where the point is, or bring the cross there and press “Take this place”.';
          const item = fixSaid(said, { position: pointedPosition(placed, drawn95M, wallTime(new Date())) });
          return item.ok ? onItem(item.value) : item.sentence;
        }}
      >
        <Field name="chainage" words="At, m" begin={chainageText} />
        <Corner begin={isCorner(before)} />
        <p role="status">
          {placed && position
            ? `${text?.ok ? text.value : 'Pointed at'}, written down as good to ${lengthWords(position.accuracy_m ?? 0)}.`
            : 'Tap the map where the point is, or bring the cross there and press “Take this place”.'}
        </p>
        {!placed && (
          <p className="quiet">
            Three dots of the screen, and {lengthWords(drawn95M)} for what is drawn on the map. Come nearer for fewer
            metres.
          </p>
        )}
      </AskForm>
    </div>
  );
}
