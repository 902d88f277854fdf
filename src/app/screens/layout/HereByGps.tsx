import { useEffect, useRef, useState } from 'react';
import { averagedPlace } from '../../state/gps-average';
import { lengthWords } from '../../words/layout-words';
import { AskForm, type Said } from './AskForm';
import { Corner } from './Corner';
import { Field } from './Field';
import { chainageSaid, fixSaid, isCorner } from './fix-said';
import type { WayProps } from './PointForm';
import { showEnd } from './scroll-in-margin';
import { useGps } from './use-gps';

/** Above this a line of some tens of metres has no direction (choice). */
const COARSE_M = 25;

/** The point is where the device is: its fixes are averaged for half a minute. */
export function HereByGps({ before, chainageText, onItem, onCancel }: WayProps) {
  const asked = useRef<Said | null>(null);
  const [refused, setRefused] = useState<string | null>(null);
  const gps = useGps((placed) => {
    if (!asked.current) return;
    const item = fixSaid(asked.current, placed);
    if (item.ok) void onItem(item.value).then(setRefused);
    else setRefused(item.sentence);
  });
  const { averaging, failure } = gps;
  const running = averaging !== null;
  const panel = useRef<HTMLDivElement>(null);

  // The form that was pressed is away meanwhile.
  useEffect(() => {
    if (!running) return;
    panel.current?.focus({ preventScroll: true });
    showEnd(panel.current);
  }, [running]);

  const soFar = averaging ? averagedPlace(averaging.fixes) : null;
  const accuracyM = soFar?.position.accuracy_m ?? null;
  return (
    <>
      <div hidden={running}>
        <AskForm
          label="Here, by GPS"
          action="Place it here"
          onCancel={onCancel}
          onSaid={(said) => {
            const chainage = chainageSaid(said);
            if (!chainage.ok) return chainage.sentence;
            asked.current = said;
            setRefused(null);
            gps.start();
            return null;
          }}
        >
          <Field name="chainage" words="At, m" begin={chainageText} />
          <Corner begin={isCorner(before)} />
          <p className="quiet">Stand at the point and keep still: the device is listened to for half a minute.</p>
        </AskForm>
      </div>
      {averaging && (
        <div className="averaging" ref={panel} tabIndex={-1}>
          <p className="countdown" role="timer">
            {averaging.secondsLeft} s
          </p>
          <p role="status">
            {averaging.fixes.length === 0
              ? 'Waiting for a fix made here…'
              : `${averaging.fixes.length === 1 ? '1 fix' : `${averaging.fixes.length} fixes`}${accuracyM === null ? '' : `, good to ${lengthWords(accuracyM)}`}. ${(accuracyM ?? 0) > COARSE_M ? 'Coarse still: wait, or go where you see more of the sky.' : 'Keep still.'}`}
          </p>
          <div className="ask-buttons">
            <button
              type="button"
              className="line-button strong-button"
              disabled={averaging.fixes.length === 0}
              onClick={gps.enough}
            >
              Enough, take it
            </button>
            <button type="button" className="line-button" onClick={gps.stop}>
              Stop
            </button>
          </div>
        </div>
      )}
      {(failure ?? refused) !== null && (
        <p className="refused" role="alert">
          {failure ?? refused}
        </p>
      )}
    </>
  );
}
