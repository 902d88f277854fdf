import { useCallback, useEffect, useRef, useState } from 'react';
import type { InventoryMapping } from '../../../exchange/read/karst-columns';
import { bringFeatures } from '../../../karst/bring-features';
import { type KarstClient, startKarstClient } from '../../../workers/karst-client';
import type { InventoryPreview } from '../../../workers/karst-table';
import { useApp } from '../../app-context';
import { edit } from '../../edit';

export interface BringState {
  readonly file: string;
  readonly preview: InventoryPreview | null;
  /** What was said last; the preview follows it a moment later. Null: as the worker understood it. */
  readonly mapping: InventoryMapping | null;
  readonly busy: boolean;
  readonly fraction: number | null;
  readonly refused: string | null;
}

/** A file of features: looked at beside the page, corrected, taken. The worker lives from the file to the end. */
export function useBringFeatures() {
  const parts = useApp();
  const [state, setState] = useState<BringState | null>(null);
  const [done, setDone] = useState<string | null>(null);
  const client = useRef<KarstClient | null>(null);
  const bytes = useRef<Uint8Array | null>(null);

  const end = useCallback(() => {
    client.current?.end();
    client.current = null;
    bytes.current = null;
    setState(null);
  }, []);
  useEffect(() => () => client.current?.end(), []);

  const look = useCallback(
    async (file: string, mapping: InventoryMapping | null) => {
      const { phase } = parts.store.get();
      const content = bytes.current;
      if (phase.kind !== 'ready' || !content) return;
      client.current?.end();
      const change = (what: Partial<BringState>): void => {
        if (client.current === own) setState((before) => before && { ...before, ...what });
      };
      const own = startKarstClient((reason) => change({ refused: `Reading broke off: ${reason}`, busy: false }));
      client.current = own;
      setState((before) => ({
        file,
        preview: before?.file === file ? before.preview : null,
        mapping,
        busy: true,
        fraction: null,
        refused: null,
      }));
      try {
        const looked = await own.look(file, content, phase.content.survey, mapping, (fraction) => change({ fraction }));
        if (looked.ok) change({ preview: looked.value, busy: false });
        else change({ refused: looked.sentence, busy: false });
      } catch (error) {
        change({ refused: `The file could not be read: ${String(error)}`, busy: false });
      }
    },
    [parts],
  );

  const begin = useCallback(
    async (file: File) => {
      setDone(null);
      setState({ file: file.name, preview: null, mapping: null, busy: true, fraction: null, refused: null });
      bytes.current = new Uint8Array(await file.arrayBuffer());
      await look(file.name, null);
    },
    [look],
  );

  const take = useCallback(async () => {
    const own = client.current;
    if (!own) return;
    setState((before) => before && { ...before, busy: true });
    const taken = await own.take();
    if (client.current !== own) return;
    const outcome = taken.ok
      ? await edit(parts, (survey, author) => bringFeatures(survey, taken.value.features, taken.value.mapping, author))
      : taken;
    if (!outcome.ok) {
      setState((before) => before && { ...before, busy: false, refused: outcome.sentence });
      return;
    }
    setDone('Brought in. Undo takes all of it back.');
    end();
  }, [parts, end]);

  return { state, done, begin, look, take, end };
}

export type BringFeaturesWork = ReturnType<typeof useBringFeatures>;
