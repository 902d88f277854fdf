/**
 * Flat ground in layers from the top down: resistivities in Ω·m, one more than thicknesses in m; all above 0, the
 * resistivities finite. The last layer has no bottom.
 */
export interface LayeredGround {
  readonly resistivitiesOhmM: readonly number[];
  readonly thicknessesM: readonly number[];
}

/** Parameters of a ground of n layers: n resistivities, then n − 1 thicknesses. */
export const parametersOf = (layers: number): number => 2 * layers - 1;

/** From a layer so thick nothing comes back: e^{−40} is below the last figure of 1. */
const NO_ECHO = 40;

/**
 * What the response of layered ground differs by, in the wave-number domain, from a simple one with a closed form.
 * The kernel T of the layers at λ = u·e^{iπ/4} by the recursion of Koefoed (1979, Geosounding Principles 1) from below,
 *     T_n = ρ_n;  T_i = ρ_i (1 + q e)/(1 − q e),  q = (T_{i+1} − ρ_i)/(T_{i+1} + ρ_i),  e = exp(−2λh_i),
 * less T₀ = ρ₁ + (ρ_n − ρ₁)·exp(−2λh₁), which meets it at both ends of λ.
 * With `withGradient` also the derivatives by every ln ρ_i and ln h_i.
 */
export class LayeredKernel {
  real = 0;
  imaginary = 0;
  readonly gradientReal: Float64Array;
  readonly gradientImaginary: Float64Array;
  readonly layers: number;
  // Per layer: ∂T_i/∂T_{i+1}, ∂T_i/∂ln ρ_i and ∂T_i/∂ln h_i as pairs of real and imaginary part.
  private readonly byBelow: Float64Array;
  private readonly byOwn: Float64Array;
  private readonly byThickness: Float64Array;

  constructor(layers: number) {
    this.layers = layers;
    this.gradientReal = new Float64Array(parametersOf(layers));
    this.gradientImaginary = new Float64Array(parametersOf(layers));
    this.byBelow = new Float64Array(2 * layers);
    this.byOwn = new Float64Array(2 * layers);
    this.byThickness = new Float64Array(2 * layers);
  }

  evaluate(resistivities: ArrayLike<number>, thicknesses: ArrayLike<number>, u: number, withGradient: boolean): void {
    const last = this.layers - 1;
    const base = resistivities[last] as number;
    const top = resistivities[0] as number;
    let tRe = base;
    let tIm = 0;
    let eRe = 1;
    let eIm = 0;
    for (let i = last - 1; i >= 0; i -= 1) {
      const rho = resistivities[i] as number;
      const s = Math.SQRT2 * u * (thicknesses[i] as number);
      const size = s > NO_ECHO ? 0 : Math.exp(-s);
      eRe = size === 0 ? 0 : size * Math.cos(s);
      eIm = size === 0 ? 0 : -size * Math.sin(s);
      const sumRe = tRe + rho;
      const inSum = 1 / (sumRe * sumRe + tIm * tIm);
      const diffRe = tRe - rho;
      const qRe = (diffRe * sumRe + tIm * tIm) * inSum;
      const qIm = (tIm * sumRe - diffRe * tIm) * inSum;
      const gRe = qRe * eRe - qIm * eIm;
      const gIm = qRe * eIm + qIm * eRe;
      const under = 1 - gRe;
      const inUnder = 1 / (under * under + gIm * gIm);
      const nextRe = rho * ((1 + gRe) * under - gIm * gIm) * inUnder;
      const nextIm = rho * (gIm * under + (1 + gRe) * gIm) * inUnder;
      if (withGradient) {
        // byG = ∂T_i/∂g = 2ρ/(1 − g)².
        const squareRe = under * under - gIm * gIm;
        const squareIm = -2 * under * gIm;
        const scale = (2 * rho) / (squareRe * squareRe + squareIm * squareIm);
        const byGRe = scale * squareRe;
        const byGIm = -scale * squareIm;
        // ∂g/∂T below = e·2ρ/(T + ρ)²; ∂g/∂ln ρ = −T times that.
        const sumSquareRe = sumRe * sumRe - tIm * tIm;
        const sumSquareIm = 2 * sumRe * tIm;
        const scaleSum = (2 * rho) / (sumSquareRe * sumSquareRe + sumSquareIm * sumSquareIm);
        const qSlopeRe = scaleSum * sumSquareRe;
        const qSlopeIm = -scaleSum * sumSquareIm;
        const gSlopeRe = eRe * qSlopeRe - eIm * qSlopeIm;
        const gSlopeIm = eRe * qSlopeIm + eIm * qSlopeRe;
        const belowRe = byGRe * gSlopeRe - byGIm * gSlopeIm;
        const belowIm = byGRe * gSlopeIm + byGIm * gSlopeRe;
        this.byBelow[2 * i] = belowRe;
        this.byBelow[2 * i + 1] = belowIm;
        this.byOwn[2 * i] = nextRe - (tRe * belowRe - tIm * belowIm);
        this.byOwn[2 * i + 1] = nextIm - (tRe * belowIm + tIm * belowRe);
        // ∂g/∂ln h = −2λh·g, 2λh = s(1 + i).
        const lagRe = -s * (gRe - gIm);
        const lagIm = -s * (gRe + gIm);
        this.byThickness[2 * i] = byGRe * lagRe - byGIm * lagIm;
        this.byThickness[2 * i + 1] = byGRe * lagIm + byGIm * lagRe;
      }
      tRe = nextRe;
      tIm = nextIm;
    }
    this.real = tRe - top - (base - top) * eRe;
    this.imaginary = tIm - (base - top) * eIm;
    if (withGradient) this.chain(base, top, eRe, eIm, last > 0 ? Math.SQRT2 * u * (thicknesses[0] as number) : 0);
  }

  /** Multiplies the slopes down to each layer and takes off those of T₀. */
  private chain(base: number, top: number, eRe: number, eIm: number, s: number): void {
    const last = this.layers - 1;
    const { gradientReal: re, gradientImaginary: im } = this;
    let alongRe = 1;
    let alongIm = 0;
    for (let i = 0; i < last; i += 1) {
      const ownRe = this.byOwn[2 * i] as number;
      const ownIm = this.byOwn[2 * i + 1] as number;
      re[i] = alongRe * ownRe - alongIm * ownIm;
      im[i] = alongRe * ownIm + alongIm * ownRe;
      const thickRe = this.byThickness[2 * i] as number;
      const thickIm = this.byThickness[2 * i + 1] as number;
      re[last + 1 + i] = alongRe * thickRe - alongIm * thickIm;
      im[last + 1 + i] = alongRe * thickIm + alongIm * thickRe;
      const belowRe = this.byBelow[2 * i] as number;
      const belowIm = this.byBelow[2 * i + 1] as number;
      const nextRe = alongRe * belowRe - alongIm * belowIm;
      alongIm = alongRe * belowIm + alongIm * belowRe;
      alongRe = nextRe;
    }
    re[last] = base * alongRe;
    im[last] = base * alongIm;
    if (last === 0) {
      re[0] = 0;
      im[0] = 0;
      return;
    }
    re[0] = (re[0] as number) - top * (1 - eRe);
    im[0] = (im[0] as number) + top * eIm;
    re[last] = (re[last] as number) - base * eRe;
    im[last] = (im[last] as number) - base * eIm;
    // −2λh₁·e, 2λh₁ = s(1 + i).
    re[last + 1] = (re[last + 1] as number) + (base - top) * s * (eRe - eIm);
    im[last + 1] = (im[last + 1] as number) + (base - top) * s * (eRe + eIm);
  }
}
