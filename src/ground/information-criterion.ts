/** What a fit has come to, for comparing models on the same observations. */
export interface FitMeasure {
  /** Sum of squared residuals; each divided by its σ where σ is known. */
  readonly sumOfSquares: number;
  readonly observations: number;
  /** Parameters fitted, σ not counted. */
  readonly parameters: number;
  /** False: one common σ, or one common factor on all σ, is estimated from the residuals. */
  readonly sigmaKnown: boolean;
}

/**
 * Akaike's criterion for normal residuals; lower is better, only differences mean anything.
 * σ known: χ² + 2k, which needs no small-sample correction, since χ² has no estimated scale.
 * σ estimated: N·ln(S/N) + 2k′ + 2k′(k′ + 1)/(N − k′ − 1) with k′ = k + 1 (Hurvich & Tsai 1989, Biometrika 76:297; Burnham &
 * Anderson 2002, Model Selection and Multimodel Inference, §2.4). Infinity where N ≤ k′ + 1: too few observations to tell.
 */
export function akaike({ sumOfSquares, observations: n, parameters, sigmaKnown }: FitMeasure): number {
  if (sigmaKnown) return sumOfSquares + 2 * parameters;
  const k = parameters + 1;
  if (n - k - 1 <= 0) return Infinity;
  return n * logMean(sumOfSquares, n) + 2 * k + (2 * k * (k + 1)) / (n - k - 1);
}

/** ln(S/N); a fit without any residual counts as one of 1e-15 a reading, where numbers end. */
const logMean = (sum: number, n: number): number => Math.log(Math.max(sum / n, 1e-30));

/**
 * Weights of models that sum to 1, from their criteria: exp(−Δ/2) (Burnham & Anderson 2002, §2.9). All 0 where every
 * criterion is infinite.
 */
export function criterionWeights(criteria: readonly number[]): number[] {
  const lowest = Math.min(...criteria);
  if (lowest === Infinity) return criteria.map(() => 0);
  const likelihoods = criteria.map((value) => Math.exp(-(value - lowest) / 2));
  const whole = likelihoods.reduce((sum, value) => sum + value, 0);
  return likelihoods.map((value) => value / whole);
}

/** Up to this difference both models have substantial support (Burnham & Anderson 2002, §2.6). */
export const SUBSTANTIAL_SUPPORT = 2;
/** From this difference on the worse model has considerably less support (the same). */
export const CONSIDERABLY_LESS_SUPPORT = 4;
