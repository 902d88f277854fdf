import { useMemo } from 'react';
import { rimsOf } from '../../../evidence/rims';
import { DEFAULT_SETTINGS, settingsOf } from '../../../evidence/settings';
import { useHere } from '../../field/position/here';
import { rimsOnWay } from '../../field/position/rims-on-way';
import { wayTo } from '../../field/position/way-to';
import {
  arrowDeg,
  nearWords,
  rimWords,
  trueBearingWords,
  turnWords,
  wayLengthWords,
} from '../../field/position/way-words';
import type { Content } from '../../state/app-state';

/** How well the device knows where it is, and the way to what is walked to: distance, bearing, and when one is there. */
export function HereWords({ content: { survey }, onMap = false }: { content: Content; onMap?: boolean }) {
  const { position, oldForS, target } = useHere();
  const rims = useMemo(() => {
    const settings = settingsOf(survey.site);
    return rimsOf(survey, (settings.ok ? settings.value : DEFAULT_SETTINGS).rimDistanceM);
  }, [survey]);
  if (position.kind === 'off') return null;
  if (position.kind === 'refused') {
    return (
      <p className="refused" role="alert">
        {position.sentence}
      </p>
    );
  }
  if (position.kind === 'asking') {
    return (
      <p role="status">
        {target && `To ${target.label}. `}
        {position.trouble ?? 'Waiting for the device to find itself…'}
      </p>
    );
  }
  const { fix } = position;
  const way = target && wayTo(fix, target);
  const rim = rimWords(rimsOnWay(fix, target, rims));
  return (
    <section className="here-words" aria-label="Where I am">
      {target && way && (
        <>
          <p className="here-target">To {target.label}</p>
          <div className="here-way">
            <svg viewBox="0 0 40 40" width="40" height="40" aria-hidden="true">
              <path d="M20 3l10 33-10-8-10 8z" transform={`rotate(${arrowDeg(way).toFixed(0)} 20 20)`} />
            </svg>
            <p>
              <strong>{wayLengthWords(way.distanceM)}</strong> {trueBearingWords(way.bearingDeg)}
              {way.turnDeg !== null && <span className="here-small">{turnWords(way.turnDeg)}</span>}
              {way.turnDeg === null && !onMap && (
                <span className="here-small">
                  The arrow is right while you face north. Walk, and it turns with you.
                </span>
              )}
            </p>
          </div>
          {way.asNearAsGps && oldForS === null && (
            <p role="status" className="here-near">
              {nearWords({ r95M: fix.r95M, uncertainty95M: target.uncertainty95M })}
            </p>
          )}
        </>
      )}
      {oldForS === null ? (
        <p className="here-small">You are here to ± {wayLengthWords(fix.r95M)} (95 % sure).</p>
      ) : (
        <p className="here-old" role="status">
          No new position for {oldForS} s: this is where you were. Stand where you see more of the sky.
        </p>
      )}
      {rim !== null && (
        <p className="here-rim" role="alert">
          {rim}
        </p>
      )}
      {rim === null && target && <p className="here-small">Keep off rims and soft ground.</p>}
    </section>
  );
}
