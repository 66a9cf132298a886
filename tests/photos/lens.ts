// Lens distortion of the simulated camera, in coordinates normalised by the focal length. Two families, so that a solver
// cannot pass by knowing only its own: the radial polynomial and the division model (Fitzgibbon 2001).

export type Lens =
  /** r_d = r_u (1 + k1 r_u^2 + k2 r_u^4) */
  | { readonly model: 'polynomial'; readonly k1: number; readonly k2: number }
  /** r_u = r_d / (1 + lambda r_d^2) */
  | { readonly model: 'division'; readonly lambda: number };

/** Factor r_d / r_u for an ideal radius. */
export function distortFactor(lens: Lens, idealRadius: number): number {
  const r2 = idealRadius * idealRadius;
  if (lens.model === 'polynomial') return 1 + lens.k1 * r2 + lens.k2 * r2 * r2;
  const q = lens.lambda * r2;
  // r_u lambda r_d^2 - r_d + r_u = 0, the root that tends to r_u as lambda tends to 0
  return q === 0 ? 1 : 2 / (1 + Math.sqrt(1 - 4 * q));
}

const NEWTON_STEPS = 12;

/** Factor r_u / r_d for a distorted radius: the inverse of distortFactor within the image. */
export function undistortFactor(lens: Lens, distortedRadius: number): number {
  if (lens.model === 'division') return 1 / (1 + lens.lambda * distortedRadius * distortedRadius);
  if (distortedRadius === 0) return 1;
  let ru = distortedRadius;
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const r2 = ru * ru;
    const error = ru * (1 + lens.k1 * r2 + lens.k2 * r2 * r2) - distortedRadius;
    ru -= error / (1 + 3 * lens.k1 * r2 + 5 * lens.k2 * r2 * r2);
  }
  return ru / distortedRadius;
}
