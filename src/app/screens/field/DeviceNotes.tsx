import { useAppState } from '../../app-context';
import type { Lasting } from '../../field/lasting-storage';
import type { ScreenAwake } from '../../field/wake-lock';
import type { Content } from '../../state/app-state';
import { SaveCopy } from './SaveCopy';

/** What this device does not do for the one who records: said plainly, with what helps. */
export function DeviceNotes({ content, awake, lasting }: { content: Content; awake: ScreenAwake; lasting: Lasting }) {
  const unkept = useAppState(({ kept, trouble }) => (kept === 'not_kept' ? trouble : null));
  return (
    <div className="device-notes">
      {unkept && (
        <>
          <p role="alert">{unkept}</p>
          <SaveCopy content={content} />
        </>
      )}
      {awake.kind === 'refused' && (
        <p>The screen will go dark by itself ({awake.reason}). What was kept stays kept; tap to wake it.</p>
      )}
      {awake.kind === 'unknown_here' && <p>This browser cannot keep the screen awake: set a long time-out yourself.</p>}
      {(lasting === 'refused' || lasting === 'unknown_here') && (
        <>
          <p>
            This browser has not promised to keep what is stored here. It may delete it when space runs short, and some
            do after 7 days without a visit. Save a copy after each line.
          </p>
          <SaveCopy content={content} />
        </>
      )}
    </div>
  );
}
