import { useEffect, useState } from 'react';
import type { Listed } from '../../../store/survey-store';
import { useApp, useAppState } from '../../app-context';

/** The surveys on this device but the open one, by name; none where the list cannot be had. */
export function useOtherSurveys(): readonly Listed[] {
  const { device, keep } = useApp();
  const kept = useAppState((state) => state.kept);
  const [listed, setListed] = useState<readonly Listed[]>([]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is kept just now joins the list
  useEffect(() => {
    let isLeft = false;
    device.list().then(
      (surveys) => {
        if (!isLeft) setListed(surveys);
      },
      () => undefined,
    );
    return () => {
      isLeft = true;
    };
  }, [device, kept === 'kept']);
  return listed.filter(({ key }) => key !== keep.openKey());
}
