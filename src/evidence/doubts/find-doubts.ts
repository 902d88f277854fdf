import type { Doubt } from '../../survey/doubt';
import { beyondVoid } from './beyond-void';
import { chainageBackwards } from './chainage-backwards';
import { contactSuspected } from './contact-suspected';
import { controlResidual } from './control-residual';
import { datumMixed } from './datum-mixed';
import type { DoubtContext, FindDoubts } from './doubt-context';
import { hookupUnknown } from './hookup-unknown';
import { meterSpacingDiffers } from './meter-spacing-differs';
import { nearOpening } from './near-opening';
import { notPolePole } from './not-pole-pole';
import { outsideReference } from './outside-reference';
import { overRange } from './over-range';
import { positionPoor } from './position-poor';
import { probableLonLatSwap } from './probable-lon-lat-swap';
import { referenceTooClose } from './reference-too-close';
import { repeatsDisagree } from './repeats-disagree';
import { singleReading } from './single-reading';
import { slopeBreak } from './slope-break';
import { tapeGpsScale } from './tape-gps-scale';
import { timeDrift } from './time-drift';
import { unitSuspected } from './unit-suspected';
import { utilitySuspected } from './utility-suspected';
import { wettingMixed } from './wetting-mixed';

/** Every kind of doubt, the ones that spoil most first. A new kind is a file beside these and a line here. */
const KINDS: readonly FindDoubts[] = [
  hookupUnknown,
  notPolePole,
  unitSuspected,
  contactSuspected,
  probableLonLatSwap,
  chainageBackwards,
  datumMixed,
  tapeGpsScale,
  controlResidual,
  overRange,
  meterSpacingDiffers,
  repeatsDisagree,
  timeDrift,
  wettingMixed,
  utilitySuspected,
  nearOpening,
  referenceTooClose,
  beyondVoid,
  slopeBreak,
  outsideReference,
  positionPoor,
  singleReading,
];

export const findDoubts = (context: DoubtContext): readonly Doubt[] => KINDS.flatMap((find) => find(context));
