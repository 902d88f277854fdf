import { useEffect, useRef } from 'react';
import { averagedPlace, averageOf } from '../../state/gps-average';
import { lengthWords } from '../../words/layout-words';
import { showEnd } from '../layout/scroll-in-margin';
import type { Averaging } from '../layout/use-gps';

/** Above this a line of some tens of metres has no direction (choice). */
const COARSE_M = 25;

export interface AveragingPanelProps {
  readonly averaging: Averaging;
  readonly onEnough: () => void;
  readonly onStop: () => void;
}

/** Fixes as they come: how long still, how many, how good their average is by now and how far they scatter. */
export function AveragingPanel({ averaging: { fixes, secondsLeft }, onEnough, onStop }: AveragingPanelProps) {
  const panel = useRef<HTMLDivElement>(null);
  const wordy = Math.min(fixes.length, 2);
  // The form that was pressed is away meanwhile.
  useEffect(() => panel.current?.focus({ preventScroll: true }), []);
  // biome-ignore lint/correctness/useExhaustiveDependencies: with the first fixes its words grow, and push the buttons out
  useEffect(() => showEnd(panel.current), [wordy]);
  const accuracyM = averagedPlace(fixes)?.position.accuracy_m ?? null;
  const average = averageOf(fixes);
  return (
    <div className="averaging" ref={panel} tabIndex={-1}>
      <p className="countdown" role="timer">
        {secondsLeft} s
      </p>
      <p role="status">
        {average === null || accuracyM === null
          ? 'Waiting for a fix made here…'
          : `${average.count === 1 ? '1 fix' : `${average.count} fixes`}, good to ${lengthWords(accuracyM)} (95 %)${average.count > 1 ? `, scattered by ${lengthWords(average.spreadM)}` : ''}. ${accuracyM > COARSE_M ? 'Coarse still: wait, or go where you see more of the sky.' : 'Keep still.'}`}
      </p>
      <div className="ask-buttons">
        <button type="button" className="line-button strong-button" disabled={fixes.length === 0} onClick={onEnough}>
          Enough, take it
        </button>
        <button type="button" className="line-button" onClick={onStop}>
          Stop
        </button>
      </div>
    </div>
  );
}
