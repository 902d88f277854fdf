import type { FeatureCollection } from 'geojson';
import type { Drape, Layers } from '../../exchange/write/layer-collection';
import type { Findings } from '../../findings';
import type { SpacingChoice } from '../../map/map-style';
import type { Theme } from '../../map/ramp';
import type { Change } from '../../survey/commit';
import type { SurveyId } from '../../survey/ids';
import type { Note } from '../../survey/note';
import type { Survey } from '../../survey/survey';
import type { Compared } from '../compare/compared';
import type { TabRole } from '../tabs';
import { type KarstState, NO_KARST } from './karst-state';
import { type LayoutState, NO_LAYOUT } from './layout-state';

/** The margins that can be opened. The others join as they are built. */
export const MARGINS = ['lay_out', 'record', 'read', 'karst', 'hand_over'] as const;
export type Margin = (typeof MARGINS)[number];

/** How much of a small screen the margin takes. At a desk it is always open. */
export type SheetHeight = 'closed' | 'half' | 'full';

export type ThemeChoice = Theme | 'device';

export type Selection =
  | { readonly kind: 'midpoint'; readonly sid: string }
  | { readonly kind: 'electrode'; readonly sid: string }
  | { readonly kind: 'zone'; readonly sid: string }
  | { readonly kind: 'feature'; readonly sid: string };

/** What is open, and what was found out about it. */
export interface Content {
  readonly survey: Survey;
  readonly notes: readonly Note[];
  readonly findings: Findings;
}

/** What the map draws of a survey. It comes a moment before the findings. */
export interface Drawn {
  readonly surveyId: SurveyId;
  readonly layers: Layers;
}

export type Phase =
  | { readonly kind: 'loading' }
  | { readonly kind: 'failed'; readonly sentence: string; readonly notes: readonly Note[] }
  | { readonly kind: 'ready'; readonly content: Content };

/** What can be taken back, and what was: change data, the latest last. */
export interface History {
  readonly undo: readonly Change[];
  readonly redo: readonly Change[];
}

export const NO_HISTORY: History = { undo: [], redo: [] };

/** Whether the survey that is open is on this device. `fresh`: as it was opened, nothing to keep. */
export type Kept = 'fresh' | 'keeping' | 'kept' | 'not_kept';

export interface AppState {
  readonly phase: Phase;
  readonly drawn: Drawn | null;
  readonly history: History;
  readonly kept: Kept;
  /** Whether this tab is the one that writes. */
  readonly tab: TabRole;
  /** The ground's own shape, drawn under the survey where there is one. */
  readonly relief: FeatureCollection | null;
  readonly selection: Selection | null;
  readonly spacing: SpacingChoice;
  readonly drape: Drape;
  readonly theme: ThemeChoice;
  readonly margin: Margin;
  readonly sheet: SheetHeight;
  readonly layout: LayoutState;
  readonly karst: KarstState;
  /** The earlier survey that the open one is compared with. */
  readonly compared: Compared | null;
  /** What went wrong while the page went on working, as a sentence. */
  readonly trouble: string | null;
}

export const INITIAL_STATE: AppState = {
  phase: { kind: 'loading' },
  drawn: null,
  history: NO_HISTORY,
  kept: 'fresh',
  tab: 'writes',
  relief: null,
  selection: null,
  spacing: 'all',
  drape: 'midpoint',
  theme: 'device',
  margin: 'read',
  sheet: 'half',
  layout: NO_LAYOUT,
  karst: NO_KARST,
  compared: null,
  trouble: null,
};
