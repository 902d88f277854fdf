import type { FeatureId, LineId, OutingId } from '../survey/ids';
import type { Carrier } from './leak';

/** What a person decided to leave out of a share so that it gives nothing away. */
export interface Cuts {
  readonly lines: ReadonlySet<LineId>;
  /** Keys of zones. */
  readonly zones: ReadonlySet<string>;
  readonly features: ReadonlySet<FeatureId>;
  readonly surroundings: ReadonlySet<string>;
  /** Outings whose remote electrodes are left out. */
  readonly remotes: ReadonlySet<OutingId>;
  /** Texts that are emptied or replaced, by where they stand: `line:ID`, `site.notes`, … */
  readonly texts: ReadonlySet<string>;
  /** Whether positions of local grids are written in longitude and latitude, and the grids left out. */
  readonly grids: boolean;
}

/** What the carriers of withheld leaks come to. */
export function cutsOf(carriers: readonly Carrier[]): Cuts {
  const lines = new Set<LineId>();
  const zones = new Set<string>();
  const features = new Set<FeatureId>();
  const surroundings = new Set<string>();
  const remotes = new Set<OutingId>();
  const texts = new Set<string>();
  let grids = false;
  for (const carrier of carriers) {
    if (carrier.kind === 'line') lines.add(carrier.line);
    else if (carrier.kind === 'zone') zones.add(carrier.zone);
    else if (carrier.kind === 'feature') features.add(carrier.feature);
    else if (carrier.kind === 'surrounding') surroundings.add(carrier.surrounding);
    else if (carrier.kind === 'remotes') remotes.add(carrier.outing);
    else if (carrier.kind === 'text') texts.add(carrier.text);
    else if (carrier.kind === 'grids') grids = true;
  }
  return { lines, zones, features, surroundings, remotes, texts, grids };
}
