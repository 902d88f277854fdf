import type { Doubt, DoubtCode } from './survey/doubt';
import type { Hookup } from './survey/hookup';
import type { LineId, OutingId, ReadingId, ReferenceId } from './survey/ids';
import type { Wetting } from './survey/survey';

/** `median`: the depth above which half of the response of uniform ground lies. `half_spacing`: common practice. */
export type DepthRule = 'median' | 'half_spacing';

export type Grade = 'none' | 'slight' | 'clear' | 'strong';
export type Sign = 'above_reference' | 'below_reference';
export type FigureKind = 'apparent_resistivity' | 'two_probe';

/** The void that a corridor speaks of: an air-filled chamber. */
export interface Target {
  readonly radiusM: number;
  readonly depthToCentreM: number;
}

/** Everything that a user may set about the computation. Written into every output. */
export interface Settings {
  readonly depthRule: DepthRule;
  /** Smallest relative standard error that a single reading is credited with. */
  readonly standardErrorFloor: number;
  readonly zThreshold: number;
  /** Ratio breaks between none, slight, clear and strong; their inverses below the reference. */
  readonly ratioBreaks: readonly [number, number, number];
  readonly ratioBreaksTwoProbe: readonly [number, number, number];
  /** Stations needed before the site's own median may stand in for a reference. */
  readonly medianStations: number;
  readonly target: Target;
}

/** A point of the ground path of a line; between two of them places run evenly with chainage. */
export interface TrackVertex {
  readonly chainageM: number;
  readonly lon: number;
  readonly lat: number;
  /** An end or a bend; else only the slope changes there. */
  readonly corner: boolean;
}

/** The ellipse that holds a place with 95 %: for drawing at honest scale. */
export interface EllipseFinding {
  readonly semiMajorM: number;
  readonly semiMinorM: number;
  /** Of the long axis, degrees clockwise from north, 0 to 180. */
  readonly azimuthDeg: number;
}

export interface ControlFinding {
  readonly id: string;
  readonly chainageM: number;
  readonly lon: number;
  readonly lat: number;
  readonly kind: string;
  readonly source: string | null;
  /** How far it lies from where the other controls, the tape and the legs put it; null where they say nothing. */
  readonly residualM: number | null;
  /** The same in standard deviations: as rare as so many sigmas of one normal number. */
  readonly residualSigma: number | null;
  /** Whether it contradicts the rest so much that the line hardly listens to it; absent = no. */
  readonly gross?: boolean;
  readonly uncertainty95M: number;
}

export interface ElectrodeFinding {
  readonly chainageM: number | null;
  readonly role: 'probe' | 'remote' | 'planned';
  /** Which of the four a remote electrode is. */
  readonly remoteRole: 'a' | 'b' | 'm' | 'n' | null;
  readonly lon: number;
  readonly lat: number;
  readonly elevationM: number | null;
  readonly readingCount: number;
  readonly uncertainty95M: number;
  /** Null or absent for remotes, whose error is taken as round. */
  readonly ellipse95?: EllipseFinding | null;
}

/** What the ratio was taken against. */
export type ReferenceBasis =
  | 'same_day_and_wetting'
  | 'same_day_other_wetting'
  | 'other_day'
  | 'other_day_and_wetting'
  | 'site_median'
  | 'none';

/** One place, spacing and hookup; its repeats pooled. */
export interface MidpointFinding {
  readonly key: string;
  readonly lineId: LineId;
  readonly chainageM: number;
  readonly spacingM: number | null;
  readonly hookup: Hookup;
  readonly readings: readonly ReadingId[];
  /** Readings that count in the figure. */
  readonly readingCount: number;
  readonly figureKind: FigureKind;
  /** Null when every reading was over range or rejected. */
  readonly figureOhmM: number | null;
  /** For a place that was only read over range: the figure is above this. */
  readonly figureAboveOhmM: number | null;
  readonly referenceOhmM: number | null;
  readonly referenceBasis: ReferenceBasis;
  /** Stations behind the reference at this spacing. */
  readonly referenceStations: number | null;
  readonly ratio: number | null;
  readonly ratioStandardError: number | null;
  readonly zScore: number | null;
  /** Figure over the figure of the next smaller spacing here, against the same step of the reference. */
  readonly stepRatio: number | null;
  readonly grade: Grade | null;
  readonly sign: Sign | null;
  readonly depthM: number | null;
  readonly depthRule: DepthRule | 'none';
  readonly aM: number | null;
  readonly bM: number | null;
  readonly mM: number | null;
  readonly nM: number | null;
  readonly lon: number;
  readonly lat: number;
  readonly uncertainty95M: number;
  readonly measuredAt: string | null;
  /** The stretch of line that it speaks for, when draped on its midpoint. */
  readonly fromM: number;
  readonly toM: number;
  readonly doubts: readonly DoubtCode[];
}

/** A stretch of line within which the stated target would have shown, out to the half-width on either side. */
export interface CorridorFinding {
  readonly fromM: number;
  readonly toM: number;
  readonly halfWidthM: number;
}

export interface LineFindings {
  readonly lineId: LineId;
  readonly name: string;
  /** The hookups that its readings used, or its default when it has none. */
  readonly hookups: readonly Hookup[];
  readonly lengthM: number;
  readonly readingCount: number;
  readonly outings: readonly OutingId[];
  readonly track: readonly TrackVertex[];
  readonly controls: readonly ControlFinding[];
  readonly electrodes: readonly ElectrodeFinding[];
  readonly midpoints: readonly MidpointFinding[];
  readonly corridors: readonly CorridorFinding[];
  readonly tapeGpsScale: number | null;
  readonly tapeGpsScaleError95: number | null;
}

/** The reference figure per spacing, for one hookup, day and wetting. */
export interface ReferenceCurve {
  readonly references: readonly ReferenceId[];
  readonly hookup: Hookup;
  /** Null = pooled over days. */
  readonly day: string | null;
  /** Null = pooled over wettings. */
  readonly wetting: Wetting | null;
  readonly kind: 'reference' | 'site_median';
  readonly points: readonly {
    readonly spacingM: number | null;
    readonly figureOhmM: number;
    /** Robust scatter of ln(figure) from station to station. */
    readonly scatterLn: number;
    readonly stations: number;
  }[];
}

export interface Findings {
  readonly provenance: {
    readonly programVersion: string;
    readonly settings: Settings;
  };
  readonly lines: readonly LineFindings[];
  readonly references: readonly ReferenceCurve[];
  readonly doubts: readonly Doubt[];
  /** Readings that came to no figure, each with the reason. */
  readonly unusable: readonly { readonly reading: ReadingId; readonly line: LineId; readonly sentence: string }[];
  /** Lines that could not be placed or computed, each with a sentence. */
  readonly unplaced: readonly { readonly lineId: LineId; readonly name: string; readonly sentence: string }[];
}
