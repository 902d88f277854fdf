import type { Palette } from './palette';
import type { Theme } from './ramp';

/** Which spacing is drawn: one alone, on its line, or all of them side by side. `null` is "spacing not said". */
export type SpacingChoice = 'all' | number | null;

/** Everything that decides how the map looks, and nothing of what is on it. */
export interface MapLook {
  readonly theme: Theme;
  readonly palette: Palette;
  readonly spacing: SpacingChoice;
  /** Whether the strokes show what changed since an earlier survey. */
  readonly comparing?: boolean;
}
