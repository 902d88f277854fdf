import type { FeatureId, LineId, OutingId } from '../survey/ids';

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
