import type { Doubt, DoubtCode } from './survey/doubt';
import type { Hookup } from './survey/hookup';
import type { LineId, OutingId, ReadingId, ReferenceId } from './survey/ids';
import type { Wetting } from './survey/survey';

/** `median`: the depth above which half of the response of uniform ground lies. `half_spacing`: common practice. */
export type DepthRule = 'median' | 'half_spacing';

export type Grade = 'none' | 'slight' | 'clear' | 'strong';
export type Sign = 'above_reference' | 'below_reference';
export type FigureKind = 'apparent_resistivity' | 'two_probe';

/** For tests that depend on each other positively, or in any way. */
export type FalseDiscoveryMethod = 'benjamini_hochberg' | 'benjamini_yekutieli';

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
  /** Share of false ones among the graded readings of a line that is put up with; 1 = no control. */
  readonly falseDiscoveryRate: number;
  readonly falseDiscoveryMethod: FalseDiscoveryMethod;
  /** Whether a level of other soil is taken out of a line's ratios where it is separable. */
  readonly takeOutLevel: boolean;
  readonly target: Target;
  /** No reading is proposed with a probe nearer than this to a known opening, sinkhole or rim. */
  readonly rimDistanceM: number;
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
  /** For a place that was only read over range: the ratio is above this. */
  readonly ratioAbove?: number | null;
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

/** What a zone is most likely to be. `void_like` only ever comes from a search that was asked for, never from grades. */
export type ZoneVerdict = 'void_like' | 'layer_like' | 'contact_like' | 'unresolved';

/** A piece of a zone's footprint: everything within `halfWidthM` of a stretch of line. */
export interface ZoneStretch {
  readonly lineId: LineId;
  readonly fromM: number;
  readonly toM: number;
  readonly halfWidthM: number;
}

/** A value with what it may be with 95 %. */
export interface Range95 {
  readonly best: number | null;
  readonly low95: number;
  readonly high95: number;
}

/** The smallest void that the search of a line would have found at a place, in four of five surveys. */
export interface FindableFinding {
  readonly lineId: LineId;
  /** `passage`: round and square to the line. */
  readonly kind: 'chamber' | 'passage';
  readonly chainageM: number;
  readonly depthM: number;
  /** Null: none of those tried. */
  readonly radiusM: number | null;
}

/** Segments that tell one story. */
export interface ZoneFinding {
  /** From its place, so that it keeps its name while its readings stay. */
  readonly key: string;
  /** "Zone 1": what a search found first, then by growing distance along the first of its lines. */
  readonly name: string;
  readonly verdict: ZoneVerdict;
  /** What seeded it: the search along the line, or neighbouring grades alone. */
  readonly basis: 'search' | 'grades';
  /** Whether all of its lines were searched for a void. */
  readonly searched: boolean;
  /** `two_probe`: it holds hints and nothing else. */
  readonly figureKind: FigureKind;
  readonly footprint: readonly ZoneStretch[];
  /** Where on each line it is taken to lie, and how far from there a search would still have it, m. */
  readonly crossings: readonly { readonly lineId: LineId; readonly chainageM: Range95 }[];
  /** The ratio farthest from 1 among its readings, with its standard error. */
  readonly peakRatio: number | null;
  readonly peakRatioStandardError: number | null;
  readonly highs: number;
  readonly lows: number;
  /** Axis or centre below ground by the search; else what its readings look at by the depth rule, with no best. */
  readonly depthM: Range95 | null;
  readonly radiusM: Range95 | null;
  /** Chance that ordinary ground of this line gives as much anywhere on it; null without a search. */
  readonly chanceOfNoVoid: number | null;
  /** Keys of its graded midpoints. */
  readonly midpoints: readonly string[];
  readonly readingCount: number;
  readonly lines: readonly LineId[];
  readonly outings: readonly OutingId[];
  readonly doubts: readonly DoubtCode[];
  /** Direction of a passage through three or more lines, degrees from north, 0 to 180; null where too few agree. */
  readonly trendDeg: Range95 | null;
  /** What is known, what else could explain it, what to do next: for files. */
  readonly paragraph: string;
}

/** Kinds of reading that separate what still stands. */
export type NextKind =
  | 'nudge_and_repeat'
  | 'wet_and_repeat'
  | 'fill_spacing'
  | 'half_step'
  | 'crossing_line'
  | 'farther_remote';

/** What could be behind a zone. */
export type Explanation = 'void' | 'contact' | 'uneven_soil';

/** A reading that is worth taking next, with what each explanation lets expect there. */
export interface NextReading {
  readonly key: string;
  readonly kind: NextKind;
  /** The zone that it is about. */
  readonly zone: string;
  readonly lineId: LineId;
  readonly chainageM: number;
  readonly spacingM: number | null;
  readonly hookup: Hookup;
  /** Chainages at which rods go in. */
  readonly probesM: readonly number[];
  readonly lon: number;
  readonly lat: number;
  /** Ratio to the reference that each explanation predicts; null = any. */
  readonly expected: Readonly<Record<Explanation, number | null>>;
  /** How far the two nearest of the explanations that it tells apart lie from each other, in standard errors. */
  readonly separation: number;
  /** What to do and what to look for. */
  readonly sentence: string;
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
  /** Absent in made-up findings only. */
  readonly levels?: readonly LevelFinding[];
  readonly discovery?: DiscoveryFinding;
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
    /** Of ln(figure): how well the stations together know the level of such ground. Absent in made-up curves only. */
    readonly standardErrorLn?: number;
    /** How many more stations would halve that. */
    readonly moreStationsToHalve?: number | null;
  }[];
}

/** A level that a whole line has against its reference at all spacings: other soil, or a reference that is not its own. */
export interface LevelFinding {
  readonly hookup: Hookup;
  /** Factor against the reference, from the stations beyond all that stands out; null = not separable. */
  readonly factor: number | null;
  /** Standard error of ln(factor). */
  readonly standardErrorLn: number | null;
  /** Stations that lie farther than the largest spacing from everything that stands out. */
  readonly stations: number;
  /** Whether the ratios of the line are taken against reference × factor. */
  readonly takenOut: boolean;
  readonly sentence: string;
}

/** Two lines that cross, compared where they do. */
export interface CrossingFinding {
  readonly lines: readonly [LineId, LineId];
  readonly chainagesM: readonly [number, number];
  readonly spacingM: number;
  readonly hookup: Hookup;
  /** Figure of the first line over that of the second, at the crossing. */
  readonly ratio: number;
  readonly standardErrorLn: number;
  readonly agree: boolean;
}

/** How many readings of a line stood out alone, and how many still do with all of the line's chances counted. */
export interface DiscoveryFinding {
  readonly tested: number;
  readonly beyondThreshold: number;
  readonly kept: number;
}

export interface Findings {
  readonly provenance: {
    readonly programVersion: string;
    readonly settings: Settings;
  };
  readonly lines: readonly LineFindings[];
  readonly references: readonly ReferenceCurve[];
  /** Absent in made-up findings only. */
  readonly crossings?: readonly CrossingFinding[];
  readonly doubts: readonly Doubt[];
  readonly zones: readonly ZoneFinding[];
  readonly nextReadings: readonly NextReading[];
  /** Lines that were searched for a void with the readings that they have now. */
  readonly searchedLines: readonly LineId[];
  /** For each place and depth of these lines, how small a void would have been found. */
  readonly findable: readonly FindableFinding[];
  /** Readings that came to no figure, each with the reason. */
  readonly unusable: readonly { readonly reading: ReadingId; readonly line: LineId; readonly sentence: string }[];
  /** Lines that could not be placed or computed, each with a sentence. */
  readonly unplaced: readonly { readonly lineId: LineId; readonly name: string; readonly sentence: string }[];
}
