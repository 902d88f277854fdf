import type { FeatureCollection } from 'geojson';
import type { Drape } from '../../exchange/write/layers';
import type { SpacingChoice } from '../../map/map-style';
import type { AppState, Content, Margin, Phase, Selection, SheetHeight, ThemeChoice } from './app-state';

export type Action =
  | { readonly type: 'opened'; readonly content: Content }
  | { readonly type: 'failed'; readonly sentence: string; readonly notes?: Extract<Phase, { kind: 'failed' }>['notes'] }
  | { readonly type: 'relief'; readonly relief: FeatureCollection }
  | { readonly type: 'select'; readonly selection: Selection | null }
  | { readonly type: 'spacing'; readonly spacing: SpacingChoice }
  | { readonly type: 'drape'; readonly drape: Drape }
  | { readonly type: 'theme'; readonly theme: ThemeChoice }
  | { readonly type: 'margin'; readonly margin: Margin }
  | { readonly type: 'sheet'; readonly sheet: SheetHeight }
  | { readonly type: 'trouble'; readonly sentence: string | null };

/** The state after an action. Pure. */
export function reduce(state: AppState, action: Action): AppState {
  switch (action.type) {
    case 'opened':
      return { ...state, phase: { kind: 'ready', content: action.content } };
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
    case 'trouble':
      return { ...state, trouble: action.sentence };
  }
}

/** A thing that was asked about is told in the Read margin, which must be in sight for that. */
function select(state: AppState, selection: Selection | null): AppState {
  if (!selection) return state.selection ? { ...state, selection: null } : state;
  return { ...state, selection, margin: 'read', sheet: state.sheet === 'closed' ? 'half' : state.sheet };
}

/** Asking for the margin that is open already puts it away, which is how a small screen gets its map back. */
function turnTo(state: AppState, margin: Margin): AppState {
  if (margin !== state.margin) return { ...state, margin, sheet: state.sheet === 'closed' ? 'half' : state.sheet };
  return { ...state, sheet: state.sheet === 'closed' ? 'half' : 'closed' };
}
