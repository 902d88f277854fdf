/*
 * Modified Bessel functions of the second kind by the polynomials of Abramowitz & Stegun 1964, 9.8.1 to 9.8.8; relative
 * error some 1e-7.
 */

/** K₀(x) for x > 0. */
export function besselK0(x: number): number {
  if (x > 2) return (Math.exp(-x) / Math.sqrt(x)) * farK0(2 / x);
  const i = (x / 3.75) ** 2;
  const i0 =
    1 + i * (3.5156229 + i * (3.0899424 + i * (1.2067492 + i * (0.2659732 + i * (0.0360768 + i * 0.0045813)))));
  const t = (x * x) / 4;
  const rest =
    -0.57721566 +
    t * (0.4227842 + t * (0.23069756 + t * (0.0348859 + t * (0.00262698 + t * (0.0001075 + t * 0.0000074)))));
  return rest - Math.log(x / 2) * i0;
}

/** K₁(x) for x > 0. */
export function besselK1(x: number): number {
  if (x > 2) return (Math.exp(-x) / Math.sqrt(x)) * farK1(2 / x);
  const i = (x / 3.75) ** 2;
  const i1OverX =
    0.5 + i * (0.87890594 + i * (0.51498869 + i * (0.15084934 + i * (0.02658733 + i * (0.00301532 + i * 0.00032411)))));
  const t = (x * x) / 4;
  const rest =
    1 +
    t * (0.15443144 + t * (-0.67278579 + t * (-0.18156897 + t * (-0.01919402 + t * (-0.00110404 - t * 0.00004686)))));
  return Math.log(x / 2) * x * i1OverX + rest / x;
}

/** K₁(x)/K₀(x) for x > 0, however large. */
export function besselRatio(x: number): number {
  return x > 2 ? farK1(2 / x) / farK0(2 / x) : besselK1(x) / besselK0(x);
}

const farK0 = (t: number): number =>
  1.25331414 +
  t * (-0.07832358 + t * (0.02189568 + t * (-0.01062446 + t * (0.00587872 + t * (-0.0025154 + t * 0.00053208)))));

const farK1 = (t: number): number =>
  1.25331414 +
  t * (0.23498619 + t * (-0.0365562 + t * (0.01504268 + t * (-0.00780353 + t * (0.00325614 - t * 0.00068245)))));
