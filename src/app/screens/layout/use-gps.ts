import { useCallback, useEffect, useRef, useState } from 'react';
import { gpsFailureWords, NO_FIX_IN_TIME, NOT_FOR_THIS_PAGE } from '../../field/position/gps-words';
import { type ArrivedFix, averagedPlace, type DeviceFix, fixesSince } from '../../state/gps-average';

const AVERAGING_S = 30;
/** The least that is tried before a device is believed to find nothing. */
const PATIENCE_S = 20;

export interface Averaging {
  readonly fixes: readonly DeviceFix[];
  readonly secondsLeft: number;
}

type Placed = NonNullable<ReturnType<typeof averagedPlace>>;

export interface Gps {
  /** Null while nothing is asked of the device. */
  readonly averaging: Averaging | null;
  readonly failure: string | null;
  start(): void;
  /** Takes what has come so far. */
  enough(): void;
  stop(): void;
}

/** Seconds to average for; a page that is laid open for inspection may say fewer. */
function averagingSeconds(): number {
  const said = new URLSearchParams(location.search);
  const seconds = said.has('inspect') ? Number(said.get('averaging')) : 0;
  return seconds > 0 ? seconds : AVERAGING_S;
}

/** Averages the device's fixes for a while, counting from the tap. Older ones are where the device was before. */
export function useGps(onPlaced: (placed: Placed) => void): Gps {
  const [averaging, setAveraging] = useState<Averaging | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  const end = useRef<(() => void) | null>(null);
  const fixes = useRef<readonly DeviceFix[]>([]);
  const lastError = useRef<GeolocationPositionError | null>(null);
  const placed = useRef(onPlaced);

  useEffect(() => {
    placed.current = onPlaced;
  }, [onPlaced]);

  const stop = useCallback(() => {
    end.current?.();
    end.current = null;
    setAveraging(null);
  }, []);

  useEffect(() => () => end.current?.(), []);

  const take = useCallback(() => {
    const place = averagedPlace(fixes.current);
    stop();
    if (place) placed.current(place);
    else setFailure(gpsFailureWords(lastError.current ?? { code: NO_FIX_IN_TIME }));
  }, [stop]);

  const start = useCallback(() => {
    end.current?.();
    setFailure(null);
    fixes.current = [];
    lastError.current = null;
    if (!('geolocation' in navigator) || !isSecureContext) {
      setFailure(NOT_FOR_THIS_PAGE);
      return;
    }
    // By a clock that nobody sets: that of the device may jump meanwhile.
    const tapMs = performance.now();
    const untilMs = tapMs + averagingSeconds() * 1000;
    const raw: ArrivedFix[] = [];
    const tick = () => {
      // A first fix may take longer than the averaging: then a device is waited for, not averaged.
      const patientMs = Math.max(untilMs, fixes.current.length > 0 ? 0 : tapMs + PATIENCE_S * 1000);
      const left = Math.ceil((patientMs - performance.now()) / 1000);
      if (left <= 0) take();
      else setAveraging({ fixes: fixes.current, secondsLeft: left });
    };
    const watch = navigator.geolocation.watchPosition(
      ({ coords, timestamp }) => {
        raw.push({
          lon: coords.longitude,
          lat: coords.latitude,
          accuracyM: coords.accuracy,
          altitudeM: coords.altitude,
          timeMs: timestamp,
          cameMs: performance.now(),
        });
        fixes.current = fixesSince(raw, tapMs, Date.now() - performance.now());
        tick();
      },
      (error) => {
        lastError.current = error;
        // Without a position now the next one may come; without a permission none will.
        if (error.code !== error.PERMISSION_DENIED) return;
        stop();
        setFailure(gpsFailureWords(error));
      },
      { enableHighAccuracy: true, maximumAge: 0, timeout: 15_000 },
    );
    const timer = setInterval(tick, 250);
    const release = keepAwake();
    end.current = () => {
      navigator.geolocation.clearWatch(watch);
      clearInterval(timer);
      release();
    };
    tick();
  }, [stop, take]);

  return { averaging, failure, start, enough: take, stop };
}

/** Keeps the screen on: with it off no fixes come. A device that will not is asked no further. */
function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let over = false;
  const ask = async () => {
    if (over || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
    try {
      lock = await navigator.wakeLock.request('screen');
      if (over) void lock.release();
    } catch {
      // Without it the person keeps the screen on.
    }
  };
  void ask();
  document.addEventListener('visibilitychange', ask);
  return () => {
    over = true;
    document.removeEventListener('visibilitychange', ask);
    void lock?.release().catch(() => {});
  };
}
