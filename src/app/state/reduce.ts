import type { FeatureCollection } from 'geojson';
import type { Drape } from '../../exchange/write/layer-collection';
import type { Findings } from '../../findings';
import type { SpacingChoice } from '../../map/map-style';
import type { Survey } from '../../survey/survey';
import type { Compared } from '../compare/compared';
import type {
  AppState,
  Content,
  Drawn,
  History,
  Kept,
  Margin,
  Phase,
  Selection,
  SheetHeight,
  ThemeChoice,
} from './app-state';
import { type KarstState, NO_KARST } from './karst-state';
import type { LayoutState } from './layout-state';

export type Action =
  /** `history` where another survey was opened; else only how it is drawn has changed. */
  | { readonly type: 'opened'; readonly content: Content; readonly history?: History }
  /** The survey after an edit, an undo or a redo; its findings follow as `computed`. */
  | { readonly type: 'changed'; readonly survey: Survey; readonly history: History }
  | { readonly type: 'computed'; readonly survey: Survey; readonly findings: Findings }
  | { readonly type: 'drawn'; readonly drawn: Drawn }
  | { readonly type: 'kept'; readonly kept: Kept }
  | { readonly type: 'tab'; readonly tab: AppState['tab'] }
  | { readonly type: 'failed'; readonly sentence: string; readonly notes?: Extract<Phase, { kind: 'failed' }>['notes'] }
  | { readonly type: 'relief'; readonly relief: FeatureCollection }
  | { readonly type: 'select'; readonly selection: Selection | null }
  | { readonly type: 'spacing'; readonly spacing: SpacingChoice }
  | { readonly type: 'drape'; readonly drape: Drape }
  | { readonly type: 'theme'; readonly theme: ThemeChoice }
  | { readonly type: 'margin'; readonly margin: Margin }
  | { readonly type: 'sheet'; readonly sheet: SheetHeight }
  | { readonly type: 'layout'; readonly layout: Partial<LayoutState> }
  | { readonly type: 'karst'; readonly karst: Partial<KarstState> }
  | { readonly type: 'compared'; readonly compared: Compared | null }
  | { readonly type: 'trouble'; readonly sentence: string | null };

/** The state after an action. Pure. */
export function reduce(state: AppState, action: Action): AppState {
  switch (action.type) {
    case 'opened':
      return opened(state, action.content, action.history);
    case 'changed':
      return changed(state, action.survey, action.history);
    case 'computed':
      return computed(state, action);
    case 'drawn':
      return { ...state, drawn: action.drawn };
    case 'kept':
      return { ...state, kept: action.kept };
    case 'tab':
      return state.tab === action.tab ? state : { ...state, tab: action.tab };
    case 'failed':
      return { ...state, phase: { kind: 'failed', sentence: action.sentence, notes: action.notes ?? [] } };
    case 'relief':
      return { ...state, relief: action.relief };
    case 'select':
      return select(state, action.selection);
    case 'spacing':
      return { ...state, spacing: action.spacing };
    case 'drape':
      return { ...state, drape: action.drape };
    case 'theme':
      return { ...state, theme: action.theme };
    case 'margin':
      return turnTo(state, action.margin);
    case 'sheet':
      return { ...state, sheet: action.sheet };
    case 'layout':
      return layOut(state, action.layout);
    case 'karst':
      return { ...state, karst: { ...state.karst, ...action.karst } };
    case 'compared':
      return { ...state, compared: action.compared };
    case 'trouble':
      return { ...state, trouble: action.sentence };
  }
}

function opened(state: AppState, content: Content, history: History | undefined): AppState {
  const phase: Phase = { kind: 'ready', content };
  // What was pointed at belongs to the survey that was open before.
  if (!history) return { ...state, phase };
  const relief = isOpen(state, content.survey) ? state.relief : null;
  const layout = { ...state.layout, line: null, task: null, placed: null, sketch: null };
  const karst = isOpen(state, content.survey) ? state.karst : { ...NO_KARST, shown: state.karst.shown };
  return { ...state, phase, history, relief, selection: null, spacing: 'all', layout, karst, compared: null };
}

const isOpen = ({ phase }: AppState, survey: Survey): boolean =>
  phase.kind === 'ready' && phase.content.survey.id === survey.id;

function changed(state: AppState, survey: Survey, history: History): AppState {
  if (state.phase.kind !== 'ready') return state;
  return { ...state, history, phase: { kind: 'ready', content: { ...state.phase.content, survey } } };
}

/** Findings of a survey that was edited again in the meantime are let go: its own are on their way. */
function computed(state: AppState, { survey, findings }: Extract<Action, { type: 'computed' }>): AppState {
  if (state.phase.kind !== 'ready' || state.phase.content.survey !== survey) return state;
  return { ...state, phase: { kind: 'ready', content: { ...state.phase.content, findings } } };
}

/** A thing that was asked about is told in the Read margin, or stood at in the record's table, where that is open. */
function select(state: AppState, selection: Selection | null): AppState {
  if (!selection) return state.selection ? { ...state, selection: null } : state;
  const inRecord = state.margin === 'record' && selection.kind === 'midpoint';
  const margin = selection.kind === 'feature' ? 'karst' : inRecord ? 'record' : 'read';
  return { ...state, selection, margin, sheet: state.sheet === 'closed' ? 'half' : state.sheet };
}

/** What is asked of the map has to be seen: a sheet over it makes room. */
function layOut(state: AppState, change: Partial<LayoutState>): AppState {
  const layout = { ...state.layout, ...change };
  return { ...state, layout, sheet: change.task && state.sheet === 'full' ? 'half' : state.sheet };
}

/** Asking for the margin that is open already puts it away, which is how a small screen gets its map back. */
function turnTo(state: AppState, margin: Margin): AppState {
  if (margin !== state.margin) {
    // What the map was asked for belongs to the form that asked; a line that is half drawn waits.
    const layout = { ...state.layout, task: null, placed: null };
    return { ...state, margin, layout, sheet: state.sheet === 'closed' ? 'half' : state.sheet };
  }
  return { ...state, sheet: state.sheet === 'closed' ? 'half' : 'closed' };
}
