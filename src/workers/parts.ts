import { joinLayers, type Layers } from '../exchange/write/layer-collection';
import type { Findings } from '../findings';
import type { LineId } from '../survey/ids';
import type { LinePart, Parts } from './findings-table';

export interface Computed {
  readonly findings: Findings;
  readonly layers: Layers;
}

/** Parts on their way to the page: only lines that it does not have yet; the others by id. */
export interface SentParts {
  readonly common: Parts['common'];
  readonly order: readonly LineId[];
  readonly changed: readonly LinePart[];
}

/** Remembers what was sent, so that an unchanged line need not be sent again. One for each receiver. */
export function createSender(): (parts: Parts) => SentParts {
  let sent = new Map<LineId, LinePart>();
  return ({ common, lines }) => {
    const changed = lines.filter((part) => sent.get(part.line.lineId) !== part);
    sent = new Map(lines.map((part) => [part.line.lineId, part]));
    return { common, order: lines.map(({ line }) => line.lineId), changed };
  };
}

/** The other end: puts the parts together again. Parts have to come in the order in which they were sent. */
export function createReceiver(): (sent: SentParts) => Computed {
  let known = new Map<LineId, LinePart>();
  return ({ common, order, changed }) => {
    const fresh = new Map(changed.map((part) => [part.line.lineId, part]));
    const lines = order.flatMap((id) => fresh.get(id) ?? known.get(id) ?? []);
    known = new Map(lines.map((part) => [part.line.lineId, part]));
    return {
      findings: { ...common, lines: lines.map(({ line }) => line) },
      layers: joinLayers(lines.map(({ layers }) => layers)),
    };
  };
}
