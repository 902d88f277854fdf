import { useRef, useState } from 'react';
import { AveragingPanel } from '../field/AveragingPanel';
import { AskForm, type Said } from './AskForm';
import { Corner } from './Corner';
import { Field } from './Field';
import { chainageSaid, fixSaid, isCorner } from './fix-said';
import type { WayProps } from './PointForm';
import { useGps } from './use-gps';

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
  return (
    <>
      <div hidden={averaging !== null}>
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
      {averaging && <AveragingPanel averaging={averaging} onEnough={gps.enough} onStop={gps.stop} />}
      {(failure ?? refused) !== null && (
        <p className="refused" role="alert">
          {failure ?? refused}
        </p>
      )}
    </>
  );
}
