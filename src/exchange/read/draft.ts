import type { LonLat } from '../../position/crs';
import type { Hookup } from '../../survey/hookup';
import type { Feature, Line, LocalGrid, Position, Reading, Remote } from '../../survey/survey';
import type { Sheet, SheetRow } from './sheet';

/** Where a thing was read, so that what is found wrong later is told at its row. */
export interface Source {
  readonly sheet: Sheet;
  readonly row: SheetRow;
}

export interface FixDraft {
  readonly chainageM: number;
  readonly position: Position;
  readonly lonLat: LonLat;
  readonly source: Source;
}

export interface LegDraft {
  readonly from_chainage_m: number;
  readonly bearing_deg: number;
  readonly bearing_reference: 'true' | 'magnetic' | 'grid';
  readonly distance_m: number;
  readonly slope_deg?: number;
  readonly date?: string;
}

export interface RemoteDraft {
  readonly role: Remote['role'];
  readonly position: Position;
  readonly source: Source;
}

/** What the tables say of a line. */
export interface LineDraft {
  readonly name: string;
  readonly source: Source;
  readonly fixes: FixDraft[];
  readonly legs: LegDraft[];
  readonly profile: { readonly chainage_m: number; readonly height_m: number }[];
  layout: Line['layout'];
  hookup: Hookup | null;
  /** Remote electrodes given with the line; they belong to its outing. */
  readonly remotes: RemoteDraft[];
  /** Places that readings brought themselves. */
  readonly ownPlaces: { readonly lonLat: LonLat; readonly source: Source }[];
  chainageReadings: number;
}

export interface ReadingDraft {
  readonly line: string;
  /** Name of the outing; null where the table says none. */
  outing: string | null;
  readonly values: Omit<Reading, 'id' | 'revised' | 'line' | 'outing' | 'retired'>;
  /** False where the table has no word on it, so that a person's rejection stands. */
  readonly statusSaid: boolean;
}

export interface FeatureDraft {
  readonly values: Omit<Feature, 'id' | 'revised' | 'retired'>;
}

/** Everything that the tables of one reading say, before it is matched with what is known. */
export interface Draft {
  readonly lines: Map<string, LineDraft>;
  readonly outings: Map<string, RemoteDraft[]>;
  readonly readings: ReadingDraft[];
  /** Stations of the reference, by file. */
  readonly references: Map<string, Map<string, { readonly line: string; readonly chainageM: number }>>;
  readonly features: FeatureDraft[];
  readonly grids: Map<string, { readonly grid: LocalGrid; readonly sheet: Sheet }>;
}

export function emptyDraft(): Draft {
  return {
    lines: new Map(),
    outings: new Map(),
    readings: [],
    references: new Map(),
    features: [],
    grids: new Map(),
  };
}

/** The draft of a line, begun where it is first named. */
export function lineOf(draft: Draft, name: string, source: Source): LineDraft {
  let line = draft.lines.get(name);
  if (!line) {
    line = {
      name,
      source,
      fixes: [],
      legs: [],
      profile: [],
      layout: null,
      hookup: null,
      remotes: [],
      ownPlaces: [],
      chainageReadings: 0,
    };
    draft.lines.set(name, line);
  }
  return line;
}

/** Remote electrodes of an outing, begun where it is first named. */
export function outingOf(draft: Draft, name: string): RemoteDraft[] {
  let remotes = draft.outings.get(name);
  if (!remotes) {
    remotes = [];
    draft.outings.set(name, remotes);
  }
  return remotes;
}
