import { RAMP_STROKE, RAMP_WIDTH_PX, type RampKey, type Theme } from '../../map/ramp';

export interface RampSwatchProps {
  readonly ramp: RampKey;
  readonly theme: Theme;
  /** Cut across: a two-probe hint. */
  readonly hint?: boolean;
  readonly lengthPx?: number;
}

/** A stroke as the map draws it: colour and width by grade, hollow below the reference, broken where unmeasured. */
export function RampSwatch({ ramp, theme, hint = false, lengthPx = 36 }: RampSwatchProps) {
  const stroke = RAMP_STROKE[theme][ramp];
  const width = RAMP_WIDTH_PX[ramp];
  const broken = ramp === 'over_range' || ramp === 'not_graded';
  const graded = !broken && ramp !== 'none';
  const line = { x1: 0, x2: lengthPx, y1: 8, y2: 8 };
  return (
    <svg className="swatch" width={lengthPx} height="16" viewBox={`0 0 ${lengthPx} 16`} aria-hidden="true">
      {graded && <line {...line} className="swatch-casing" strokeWidth={width + 1.6} />}
      <line {...line} stroke={stroke} strokeWidth={width} strokeDasharray={broken ? '5 4' : undefined} />
      {ramp.endsWith('_below') && <line {...line} className="swatch-hollow" strokeWidth={width * 0.3} />}
      {graded && hint && <line {...line} className="swatch-hollow" strokeWidth={width} strokeDasharray="2.5 5" />}
    </svg>
  );
}
