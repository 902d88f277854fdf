import { useEffect, useState } from 'react';
import type { Listed } from '../../../store/survey-store';
import { useApp, useAppState } from '../../app-context';

/** What is in a kept survey. */
export interface Holds {
  readonly lines: number;
  readonly readings: number;
  readonly bytes: number;
}

export interface KeptList {
  readonly listed: readonly Listed[];
  readonly holds: ReadonlyMap<string, Holds>;
  /** Asks the device again. */
  readonly again: () => void;
}

/** Counted once for a survey as it was at a time: it has to be read whole for that. */
const counted = new Map<string, Holds>();
const atOf = ({ key, changedAt }: Listed): string => `${key} ${changedAt}`;

/** The surveys on this device; what each holds follows, one after the other. */
export function useKeptSurveys(): KeptList {
  const { device } = useApp();
  const kept = useAppState((state) => state.kept);
  const [asked, setAsked] = useState(0);
  const [listed, setListed] = useState<readonly Listed[]>([]);
  const [holds, setHolds] = useState<ReadonlyMap<string, Holds>>(new Map());

  // biome-ignore lint/correctness/useExhaustiveDependencies: asked again when something was kept or changed
  useEffect(() => {
    let gone = false;
    const look = async () => {
      const found = await device.list().catch(() => []);
      if (gone) return;
      setListed(found);
      for (const survey of found) {
        const known = counted.get(atOf(survey)) ?? (await count(survey.key));
        if (gone) return;
        if (!known) continue;
        counted.set(atOf(survey), known);
        setHolds((before) => (before.get(survey.key) === known ? before : new Map(before).set(survey.key, known)));
      }
    };
    const count = async (key: string): Promise<Holds | null> => {
      const read = await device.read(key).catch(() => null);
      if (!read) return null;
      const { survey } = read;
      const inUse = (entities: readonly { readonly retired?: boolean | undefined }[]) =>
        entities.filter(({ retired }) => !retired).length;
      const bytes = new Blob([JSON.stringify(survey)]).size;
      return { lines: inUse(survey.lines), readings: inUse(survey.readings), bytes };
    };
    if (kept !== 'keeping') void look();
    return () => {
      gone = true;
    };
  }, [device, kept, asked]);

  return { listed, holds, again: () => setAsked((times) => times + 1) };
}
