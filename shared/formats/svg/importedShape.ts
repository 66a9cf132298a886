// A closed outline from a drawing as a shape of the model: clockwise, cut into edges at its corners, nothing known of its
// allowance yet.
import { splitAtCorners } from '../../geometry/corners.ts';
import { type CubicPath, reversePath } from '../../geometry/cubicPath.ts';
import { flattenPath } from '../../geometry/flatten.ts';
import { signedAreaMm2 } from '../../geometry/polygon.ts';
import type { Accuracy, Shape } from '../../pattern/model.ts';

export interface ImportDefaults {
  /** Which line the drawing holds, and the allowance to assume until the person says it. */
  readonly tracedLine: Shape['tracedLine'];
  readonly allowanceMm: number;
}

/** A joint that turns by more than this is a corner of the piece. */
const CORNER_DEG = 20;
/** Areas and directions only, never lengths. */
const AREA_CHORD_MM = 0.1;

/** A drawing is taken as it stands: what its lines are worth is not known from the file. */
const EXACT: Accuracy = { scaleSources: [], pointSigmaMm: 0 };

export function areaMm2(closed: CubicPath): number {
  return Math.abs(signedAreaMm2(flattenPath(closed, AREA_CHORD_MM)));
}

export function shapeFromOutline(closed: CubicPath, defaults: ImportDefaults): Shape {
  const clockwise = signedAreaMm2(flattenPath(closed, AREA_CHORD_MM)) >= 0 ? closed : reversePath(closed);
  const ring = splitAtCorners(clockwise, CORNER_DEG).map((curve, i) => ({
    id: `e${i + 1}`,
    label: `edge ${i + 1}`,
    role: 'seam' as const,
    curve,
    allowanceMm: defaults.allowanceMm,
    allowanceAssumed: true,
    sigmaMm: null,
  }));
  return {
    ring,
    tracedLine: defaults.tracedLine,
    notches: [],
    darts: [],
    pleats: [],
    grainline: null,
    marks: [],
    accuracy: EXACT,
  };
}
