// The handles of the alteration that is worked out: where each lies on the canvas, which amount it sets, and which amount a
// place of the pointer means. Positions and directions come from the alterations themselves.
import { alterationById } from '../../../shared/alter/alterations.ts';
import { amountUnder, type Grasp, graspAt } from '../../../shared/alter/grasp.ts';
import { type AmountSpec, amountGiven } from '../../../shared/alter/params.ts';
import type { Point } from '../../../shared/base/points.ts';
import { MM_PER } from '../../../shared/base/units.ts';
import { type Affine, apply, invert } from '../../../shared/geometry/transform.ts';
import { angleDeg, scale, sub } from '../../../shared/geometry/vector.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import type { Lay } from '../../canvas/layout.ts';
import { type Altering, currentSet, type WindowState } from '../../state/windowState.ts';

export interface Handle {
  readonly key: string;
  readonly grasp: Grasp;
  readonly spec: AmountSpec;
  readonly pieceName: string;
  /** The amount as it stands; what was not said counts as nothing. */
  readonly amountMm: number;
  /** False while nobody said the amount. */
  readonly isSaid: boolean;
  readonly canvasFromPiece: Affine;
}

/** What a hand moves by at once, in each of the units that a set is shown in: what a tape shows between its lines. */
export const STEP_MM: Readonly<Record<PatternSet['displayUnits'], number>> = {
  mm: 0.5,
  cm: 0.5,
  in: MM_PER.in / 16,
};

/** Steps of the keys that go far: PageUp and PageDown, and arrows with Shift. */
export const FAR_STEPS = 10;

/** The amount a number of whole steps on, and on a whole step itself. */
export function stepped(amountMm: number, steps: number, stepMm: number): number {
  return Math.round(amountMm / stepMm + steps) * stepMm;
}

/** The handles in the size shown; none outside the step Alter. */
export function handlesOf(state: WindowState, lay: Lay | null): readonly Handle[] {
  const set = currentSet(state);
  if (state.area !== 'alter' || set === null || lay === null) return [];
  const specs = alterationById(state.altering.id)?.params ?? [];
  const { given } = state.altering;
  return graspsOf(set, state.altering)
    .filter(({ size }) => size === state.size)
    .flatMap((grasp, i): Handle[] => {
      const spec = specs.find(({ name }) => name === grasp.param);
      const piece = set.pieces.find(({ id }) => id === grasp.piece);
      const place = lay.places.get(grasp.piece);
      if (spec === undefined || spec.unit === 'name' || piece === undefined || place === undefined) return [];
      const amountMm = amountGiven(specs, given, grasp.param);
      return [
        {
          key: `${state.altering.id} ${grasp.piece} ${grasp.param} ${i}`,
          grasp,
          spec,
          pieceName: piece.name,
          amountMm: amountMm ?? grasp.fromMm,
          isSaid: given[grasp.param] !== undefined,
          canvasFromPiece: place.canvasFromPiece,
        },
      ];
    });
}

let known: { readonly set: PatternSet; readonly altering: Altering; readonly grasps: readonly Grasp[] } | null = null;

/** Asked at every frame of a pan and by the panel, but another only when the set or what was said is another. */
export function graspsOf(set: PatternSet, altering: Altering): readonly Grasp[] {
  if (known?.set === set && known.altering === altering) return known.grasps;
  const { id, given, pieces, sizes } = altering;
  const grasps = alterationById(id)?.grasps(set, given, { pieces, sizes }) ?? [];
  known = { set, altering, grasps };
  return grasps;
}

/** Where the handle lies, canvas millimetres. */
export function placeOf({ grasp, amountMm, canvasFromPiece }: Handle): Point {
  return apply(canvasFromPiece, graspAt(grasp, amountMm));
}

/** The direction in which its amount grows, clockwise from the right as seen, degrees. */
export function headingDeg({ grasp, canvasFromPiece }: Handle): number {
  const end = apply(canvasFromPiece, [grasp.at[0] + grasp.toward[0], grasp.at[1] + grasp.toward[1]]);
  return angleDeg(sub(end, apply(canvasFromPiece, grasp.at)));
}

/** The line that is held, canvas millimetres. */
export function lineOf(handle: Handle): readonly [Point, Point] | null {
  const { grasp, amountMm, canvasFromPiece } = handle;
  if (grasp.line === null) return null;
  const [x, y] = scale(grasp.toward, grasp.travelRatio * (amountMm - grasp.fromMm));
  const moved = ([px, py]: Point): Point => apply(canvasFromPiece, [px + x, py + y]);
  return [moved(grasp.line[0]), moved(grasp.line[1])];
}

/** The amount that a place of the canvas means for this handle: a whole step within what the amount may be. */
export function amountAt({ grasp, spec, canvasFromPiece }: Handle, place: Point, stepMm: number): number {
  const amountMm = amountUnder(grasp, apply(invert(canvasFromPiece), place));
  return allowed({ spec, grasp }, stepped(amountMm, 0, stepMm));
}

/** The amount kept within its limits. */
export function allowed({ spec: { min, max }, grasp }: Pick<Handle, 'spec' | 'grasp'>, amountMm: number): number {
  return Math.min(Math.max(amountMm, min), max, grasp.mostMm ?? max);
}

const ARROWS: Readonly<Record<string, readonly [x: number, y: number]>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowDown: [0, 1],
  ArrowUp: [0, -1],
};
/** An arrow key across the direction of a handle says neither more nor less by itself. */
const LEAST_ALONG = 0.3;

/** Steps that a key means: an arrow pushes the handle where it points; across its way, right and up are more. 0 = no such key. */
export function stepsOf(handle: Handle, key: string): number {
  if (key === 'PageUp') return FAR_STEPS;
  if (key === 'PageDown') return -FAR_STEPS;
  const arrow = ARROWS[key];
  if (arrow === undefined) return 0;
  const rad = (headingDeg(handle) * Math.PI) / 180;
  const along = arrow[0] * Math.cos(rad) + arrow[1] * Math.sin(rad);
  return Math.abs(along) >= LEAST_ALONG ? Math.sign(along) : arrow[0] - arrow[1];
}
