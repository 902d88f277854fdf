import type { Hookup } from '../survey/hookup';

/** A value with everything within 95 % of the best fit; open where that reaches the bound of what was tried. */
export interface RangeM {
  readonly best: number;
  readonly low95: number;
  readonly high95: number;
  readonly openLow: boolean;
  readonly openHigh: boolean;
}

export type SearchVerdict = 'void_like' | 'layer_like' | 'contact_like' | 'unresolved';

export interface VoidCandidate {
  /** Name of the line that carries most of it. */
  readonly line: string;
  readonly kind: 'chamber' | 'passage';
  /** On that line. */
  readonly chainageM: RangeM;
  /** Centre or axis below ground, m. */
  readonly depthM: RangeM;
  readonly radiusM: RangeM;
  /**
   * Angle between passage and line, degrees, 0 to 90; for lines searched together the bearing clockwise from north of the
   * plane, 0 to 180. Null for a chamber.
   */
  readonly bearingDeg: RangeM | null;
  /** Where it lies under each of the lines that it crosses. */
  readonly crossings: readonly { readonly line: string; readonly chainageM: RangeM }[];
  /** What χ² falls by with it. */
  readonly statistic: number;
  /** Chance that ordinary ground of these lines gives as much anywhere on them; never below one in the simulations. */
  readonly pGlobal: number;
  readonly verdict: SearchVerdict;
  /** What χ² falls by with the best of each other cause; it had the same readings to explain. */
  readonly rivals: Readonly<Record<'layer' | 'contact' | 'conductor', number>>;
  /** Ids of the readings that carry it, the weightiest first. */
  readonly readings: readonly string[];
  /** For people. */
  readonly sentence: string;
}

/** The smallest void that would have been found with 80 % at a place. */
export interface FindableVoid {
  readonly line: string;
  /** `passage`: round, endless for these readings, square to the line. */
  readonly kind: 'chamber' | 'passage';
  readonly chainageM: number;
  readonly depthM: number;
  /** Null: no void within the bounds of the search would have been found. */
  readonly radiusM: number | null;
}

/** A reading that is worth taking next about the first candidate. */
export interface UsefulReading {
  readonly line: string;
  readonly chainageM: number;
  readonly spacingM: number;
  /** As the readings of that line. */
  readonly hookup: Hookup;
  /** What it adds to the squared distance, in standard errors, of void and best other cause. */
  readonly gain: number;
  /** Ratio to the reference that is expected with the void, and without it. */
  readonly ifVoid: number;
  readonly ifNot: number;
}

export interface VoidSearchResult {
  readonly key: string;
  /** Names of the lines searched. */
  readonly lines: readonly string[];
  /** χ² has to fall by this for a candidate. */
  readonly threshold: number;
  readonly falseAlarmRate: number;
  readonly simulations: number;
  /** Unevenness of the soil as estimated: standard deviation of ln(thickness), and the length it is remembered over. */
  readonly relief: { readonly share: number; readonly wavelengthM: number };
  /** The strongest first; empty where nothing reaches the threshold. */
  readonly candidates: readonly VoidCandidate[];
  readonly findable: readonly FindableVoid[];
  readonly useful: readonly UsefulReading[];
  /** What limits this search, in sentences. */
  readonly remarks: readonly string[];
}
