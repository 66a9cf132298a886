// Floating-point hygiene of the geometry, named by meaning. None of these says what a sewer accepts: those limits live in
// shared/limits. Each carries the reason why it cannot well be smaller.

/** Two points this close are the same point: a million times below what a photo measures, a million times above rounding at 1 m. */
export const COINCIDENT_MM = 1e-6;

/** Two parameters this close are the same place on a cubic: rounding in de Casteljau leaves about 1e-15 on [0, 1]. */
export const CURVE_PARAMETER = 1e-11;

/** Stated error bound of every arc length of one cubic; the quadrature reaches it in one or two halvings on smooth curves. */
export const LENGTH_ERROR_MM = 1e-7;

/** Relative floor of the same bound: on very long curves rounding alone spends more than LENGTH_ERROR_MM. */
export const LENGTH_ERROR_RATIO = 1e-12;

/** Halvings after which quadrature stops: a cusp needs about 20, and 2^-40 of a cubic is below rounding. */
export const MAX_HALVINGS = 40;

/** A derivative below this share of the control polygon is no direction: handles coincide, rounding decides. */
export const NO_DIRECTION_RATIO = 1e-9;

/** Sine of an angle below which two lines count as parallel: their crossing would be rounding noise. */
export const PARALLEL_SINE = 1e-10;

/** Straightness to which curves are halved before their chords are crossed; Newton steps then polish the crossing. */
export const CROSSING_FLATNESS_MM = 1e-3;

/** Share of the chord to which the same halving may stop on tiny curves, so that a sweep over scales behaves alike. */
export const CROSSING_FLATNESS_RATIO = 1e-3;

/** Newton steps: convergence is quadratic, eight steps from chord accuracy reach rounding; more means it will not converge. */
export const MAX_NEWTON_STEPS = 12;

/** How far past its ends, as a share, a chord may still be taken to meet another: flat curves stray by less than this. */
export const CHORD_SLACK_RATIO = 0.05;

/** A crossing this near the joint of two consecutive stretches is the joint: Newton stops short where they are tangent. */
export const SAME_JOINT_MM = 1e-4;

/** Step away from a place where a derivative vanishes: far enough for its limit to stand clear of rounding. */
export const NUDGE_PARAMETER = 1e-4;

/** A pivot below this share of the largest entry makes a small linear system singular: the data do not decide it. */
export const SINGULAR_PIVOT_RATIO = 1e-12;
