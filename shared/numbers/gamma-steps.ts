/**
 * Differences of the gamma and digamma functions at two large, near arguments. Taking two large logarithms
 * from each other loses the digits that matter once there are millions of animals; these do not.
 */

const LARGE_FROM = 8;

/** ln Gamma(x) minus Stirling's leading terms, for x >= 8 (Abramowitz and Stegun 1964, eq. 6.1.41). */
function stirlingRest(x: number): number {
  const i = 1 / x;
  const s = i * i;
  return i * (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188 - s * (691 / 360360))))));
}

/**
 * ln Gamma(x + d) - ln Gamma(x) for x > 0 and d >= 0, exact to about 1e-15 of the larger term even where
 * x is 1e15.
 *
 * @example logGammaStep(4, 2) // ln(5! / 3!) = ln 20 = 2.995732273553991
 */
export function logGammaStep(x: number, d: number): number {
  let low = x;
  let high = x + d;
  let step = d;
  let correction = 0;
  while (low < LARGE_FROM) {
    if (high >= LARGE_FROM + 1 && step >= 1) {
      // Move only the lower end up, so that one factor remains to be taken in.
      correction += Math.log(low);
      step -= 1;
    } else {
      correction += Math.log(low) - Math.log(high);
      high += 1;
    }
    low += 1;
  }
  const leading = (low + step - 0.5) * Math.log1p(step / low) + step * (Math.log(low) - 1);
  return correction + leading + stirlingRest(low + step) - stirlingRest(low);
}

/** psi(x) - ln x for x >= 8 (Abramowitz and Stegun 1964, eq. 6.3.18). */
function digammaRest(x: number): number {
  const i = 1 / x;
  const s = i * i;
  return (
    -0.5 * i -
    s * (1 / 12 - s * (1 / 120 - s * (1 / 252 - s * (1 / 240 - s * (1 / 132 - s * (691 / 32760))))))
  );
}

/**
 * psi(x + d) - psi(x), the digamma function at two arguments, for x > 0 and d >= 0.
 *
 * @example digammaStep(1, 3) // 1 + 1/2 + 1/3 = 1.8333333333333333
 */
export function digammaStep(x: number, d: number): number {
  let low = x;
  let step = d;
  let correction = 0;
  while (low < LARGE_FROM && step >= 1) {
    correction += 1 / low;
    low += 1;
    step -= 1;
  }
  while (low < LARGE_FROM) {
    correction += 1 / low - 1 / (low + step);
    low += 1;
  }
  return correction + Math.log1p(step / low) + digammaRest(low + step) - digammaRest(low);
}
