// The canvas in the middle of the window: shows the scene, goes where it is asked to, and hands pointer and keys to the tools.
import { useEffect, useRef } from 'preact/hooks';
import type { Point } from '../../shared/base/points.ts';
import { pointInPolygon } from '../../shared/geometry/polygon.ts';
import { apply, invert } from '../../shared/geometry/transform.ts';
import type { Actions } from '../app/actions.ts';
import { pickForSeam } from '../seams/pickEdges.ts';
import { markName, markPoint, marksOf, moveMark, sameMark } from '../state/edits/marks.ts';
import { nearestEdge, outlineOf } from '../state/edits/outline.ts';
import { changeShape, removeMarkFrom } from '../state/edits/pieces.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';
import { GraspHandles } from '../tools/grasp/GraspHandles.tsx';
import { handlesOf } from '../tools/grasp/handles.ts';
import { toolOf } from '../tools/registry.ts';
import type { Begun } from '../tools/tool.ts';
import { drawScene, makeScope, type Scope } from './draw.ts';
import { type Lay, layPieces } from './layout.ts';
import { makePictures, type Pictures } from './pictures.ts';
import { boxOfGoTo, type Scene, type ScenePiece, sceneOf } from './scene.ts';
import {
  between,
  fitBox,
  keepCorner,
  pan,
  pixelAt,
  placeAt,
  type ScreenSize,
  type Viewport,
  zoomAt,
} from './viewport.ts';

/** How near to a mark or line a press counts as on it. */
const REACH_PX = 11;
const WHEEL_STEP = 1.0015;
const KEY_ZOOM = 1.25;
const KEY_PAN_PX = 80;
/** Arrow keys move a mark by this; with Shift ten times as far. */
const NUDGE_MM = 0.5;
const GO_MS = 220;
const MOST_COVERED_RATIO = 0.4;
/** A press that moves less than this is a click. */
const CLICK_PX = 3;

export interface CanvasHandle {
  readonly zoom: (factor: number) => void;
  readonly showAll: () => void;
}

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
  readonly handle: { current: CanvasHandle | null };
}

interface Gesture {
  readonly kind: 'pan' | 'tool';
  readonly fromPx: Point;
  lastPx: Point;
  readonly begun: Begun | null;
  readonly piece: ScenePiece | null;
  stroke: Point[];
}

export function CanvasView({ state, actions, handle }: Props) {
  const stage = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const scope = useRef<Scope | null>(null);
  const view = useRef<Viewport>({ centre: [0, 0], pxPerMm: 1 });
  const lay = useRef<Lay | null>(null);
  const gesture = useRef<Gesture | null>(null);
  const pictures = useRef<Pictures | null>(null);
  const spaceDown = useRef(false);
  const screen = useRef<ScreenSize>({ widthPx: 0, heightPx: 0 });
  const layOutHandles = useRef<(() => void) | null>(null);
  const { now } = actions;

  /** The scene of the newest state, which may be a moment ahead of what was last drawn. */
  const layNow = (): Lay | null => {
    const set = currentSet(now());
    lay.current = set === null ? null : layPieces(set, now().size, lay.current);
    return lay.current;
  };
  const sceneNow = (): Scene => sceneOf(now(), layNow());
  const draw = () => {
    const { current } = scope;
    if (current === null || screen.current.widthPx === 0) return;
    const shown = sceneNow();
    current.activate();
    current.view.zoom = view.current.pxPerMm;
    current.view.center = new current.Point(view.current.centre[0], view.current.centre[1]);
    drawScene(current, shown, {
      mmPerPx: 1 / view.current.pxPerMm,
      pictureOf: (picture) => pictures.current?.get(now().open?.handle ?? '', picture) ?? null,
      stroke: gesture.current?.stroke ?? [],
    });
    layOutHandles.current?.();
  };
  const measure = () => {
    const { current } = scope;
    const holder = canvas.current?.parentElement?.parentElement;
    if (current === null || !holder) return;
    const before = screen.current;
    screen.current = { widthPx: holder.clientWidth, heightPx: holder.clientHeight };
    view.current = keepCorner(view.current, before, screen.current);
    current.activate();
    current.view.viewSize = new current.Size(holder.clientWidth, holder.clientHeight);
  };
  const look = (next: Viewport) => {
    view.current = next;
    draw();
  };
  /** What the tools cover at the left, unless they leave too little beside them. */
  const coveredPx = (): number => {
    const rail = canvas.current?.closest('.stage')?.querySelector('.rail')?.getBoundingClientRect();
    const px = rail === undefined ? 0 : rail.right - (canvas.current?.getBoundingClientRect().left ?? 0);
    return px < MOST_COVERED_RATIO * screen.current.widthPx ? px : 0;
  };
  const showAll = () => {
    const box = boxOfGoTo({ ...now(), goTo: { kind: 'all' } }, sceneNow());
    if (box !== null) look(fitBox(box, screen.current, coveredPx()));
  };
  handle.current = { zoom: (factor) => look(zoomAt(view.current, view.current.centre, factor)), showAll };

  useEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    scope.current = makeScope(element);
    pictures.current = makePictures(actions.bridge, draw, (sentence) => actions.tell('error', sentence));
    const watch = new ResizeObserver(() => {
      measure();
      draw();
    });
    watch.observe(element.parentElement?.parentElement ?? element);
    return () => watch.disconnect();
  }, []);

  useEffect(draw, [state]);

  useEffect(() => {
    measure(); // a ruler that came or went under the canvas has changed its height
    const box = boxOfGoTo(now(), sceneNow());
    if (box === null || screen.current.widthPx === 0) return;
    return travel(view.current, fitBox(box, screen.current, coveredPx()), look);
  }, [state.goTo, state.area, state.shown, state.open?.handle]);

  const pixelOf = (event: { readonly clientX: number; readonly clientY: number }): Point => {
    const box = canvas.current?.getBoundingClientRect();
    return [event.clientX - (box?.left ?? 0), event.clientY - (box?.top ?? 0)];
  };
  const placeOf = (px: Point): Point => placeAt(view.current, px, screen.current);
  const set = currentSet(state);

  const down = (event: PointerEvent) => {
    stage.current?.focus({ preventScroll: true });
    const px = pixelOf(event);
    const isPan = event.button === 1 || spaceDown.current || event.button === 2;
    const target = isPan ? null : pieceAt(sceneNow(), placeOf(px), REACH_PX / view.current.pxPerMm);
    const begun = target?.isSelected === true && now().area === 'pieces' ? pressOn(target, px) : null;
    stage.current?.setPointerCapture(event.pointerId);
    const isIdle = begun === null || (begun.kind === 'select' && begun.edge === null);
    gesture.current = {
      kind: isPan || isIdle ? 'pan' : 'tool',
      fromPx: px,
      lastPx: px,
      begun,
      piece: target,
      stroke: [],
    };
    if (begun?.kind === 'drag') actions.select({ mark: begun.mark, edge: begun.edge });
  };
  const pressOn = ({ piece, shape, canvasFromPiece }: ScenePiece, px: Point): Begun =>
    toolOf(now().tool).press({
      piece,
      size: now().size,
      shape,
      at: apply(invert(canvasFromPiece), placeOf(px)),
      reachMm: REACH_PX / view.current.pxPerMm,
      openEdge: now().selection.edge,
      pullMm: now().reachMm,
    });

  const move = (event: PointerEvent) => {
    const held = gesture.current;
    if (held === null) return;
    const px = pixelOf(event);
    if (held.kind === 'pan') {
      look(pan(view.current, [px[0] - held.lastPx[0], px[1] - held.lastPx[1]]));
    } else if (held.begun?.kind === 'drag' && held.piece !== null && isMoved(held, px)) {
      const to = apply(invert(held.piece.canvasFromPiece), placeOf(px));
      actions.patch({ draft: { piece: held.piece.piece.id, shape: held.begun.shapeAt(to) } });
    } else if (held.begun?.kind === 'stroke') {
      held.stroke.push(placeOf(px));
      draw();
    }
    held.lastPx = px;
  };

  const up = (event: PointerEvent) => {
    const held = gesture.current;
    gesture.current = null;
    if (held === null) return;
    const px = pixelOf(event);
    if (held.kind === 'pan') {
      if (!isMoved(held, px) && event.button === 0) click(held.piece, px);
      return;
    }
    const { begun, piece } = held;
    if (begun === null || piece === null) return;
    const inPiece = invert(piece.canvasFromPiece);
    switch (begun.kind) {
      case 'drag': {
        if (!isMoved(held, px)) return;
        const shape = begun.shapeAt(apply(inPiece, placeOf(px)));
        return actions.edit(begun.label, (set) => changeShape(set, piece.piece.id, now().size, () => shape));
      }
      case 'stroke': {
        const shape = begun.shapeOf(held.stroke.map((point) => apply(inPiece, point)));
        draw();
        if (shape === null) return actions.tell('error', begun.refusal);
        actions.edit(begun.label, (set) => changeShape(set, piece.piece.id, now().size, () => shape));
        return actions.select({ edge: begun.edge, mark: null });
      }
      case 'change':
        actions.edit(begun.label, begun.change);
        return actions.select({ mark: begun.mark, edge: null });
      case 'select':
        return actions.select({ edge: begun.edge, mark: null });
    }
  };

  const click = (target: ScenePiece | null, px: Point) => {
    if (isTaping(now())) return actions.tapeAt(placeOf(px));
    if (now().area === 'seams' && now().selection.picking !== null) {
      if (target === null) return;
      const { edge } = nearestEdge(target.shape, apply(invert(target.canvasFromPiece), placeOf(px)));
      return pickForSeam(now(), actions, target.piece.id, edge.id);
    }
    if (now().area === 'pieces' || now().area === 'photos') {
      actions.select({ piece: target?.piece.id ?? null, edge: null, mark: null });
    }
  };

  const wheel = (event: WheelEvent) => {
    event.preventDefault();
    look(zoomAt(view.current, placeOf(pixelOf(event)), WHEEL_STEP ** -event.deltaY));
  };

  const keyDown = (event: KeyboardEvent) => {
    if (event.key === ' ') spaceDown.current = true;
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (onKey(event)) event.preventDefault();
  };
  const onKey = ({ key, shiftKey }: KeyboardEvent): boolean => {
    const arrow = ARROWS[key];
    if (arrow !== undefined) {
      if (!nudge(arrow, shiftKey)) look(pan(view.current, [-arrow[0] * KEY_PAN_PX, -arrow[1] * KEY_PAN_PX]));
      return true;
    }
    switch (key) {
      case '+':
      case '=':
        look(zoomAt(view.current, view.current.centre, KEY_ZOOM));
        return true;
      case '-':
        look(zoomAt(view.current, view.current.centre, 1 / KEY_ZOOM));
        return true;
      case '0':
        showAll();
        return true;
      case 'Enter':
        if (!isTaping(now())) return false;
        actions.tapeAt(view.current.centre);
        return true;
      case '.':
      case ',':
        return nextMark(key === '.' ? 1 : -1);
      case 'Delete':
      case 'Backspace':
        return removeSelected();
      case 'Escape':
        actions.patch({ draft: null });
        gesture.current = null;
        actions.select({ mark: null, edge: null, picking: null });
        if (isTaping(now())) actions.changeCapture({ taping: null });
        return true;
      case ' ':
        return true;
      default:
        return false;
    }
  };
  const chosen = () => sceneNow().pieces.find(({ isSelected }) => isSelected && now().area === 'pieces') ?? null;
  const nudge = ([x, y]: Point, far: boolean): boolean => {
    const one = chosen();
    const ref = now().selection.mark;
    const at = one === null || ref === null ? null : markPoint(one.shape, ref);
    if (one === null || ref === null || at === null) return false;
    const step = far ? NUDGE_MM * 10 : NUDGE_MM;
    const [onX, onY] = apply(one.canvasFromPiece, at);
    const to = apply(invert(one.canvasFromPiece), [onX + x * step, onY + y * step]);
    actions.edit(
      `Move ${markName(one.shape, ref)} of ${one.piece.name}`,
      (set) => changeShape(set, one.piece.id, now().size, (shape) => moveMark(shape, ref, to)),
      `nudge ${one.piece.id} ${JSON.stringify(ref)}`,
    );
    return true;
  };
  const nextMark = (step: 1 | -1): boolean => {
    const one = chosen();
    if (one === null) return false;
    const marks = marksOf(one.shape, now().selection.edge);
    const index = marks.findIndex(({ ref }) => sameMark(ref, now().selection.mark));
    const next = marks.at((index + step + (index === -1 && step === -1 ? 1 : 0)) % marks.length);
    actions.select({ mark: next?.ref ?? null });
    return true;
  };
  const removeSelected = (): boolean => {
    const one = chosen();
    const { mark } = now().selection;
    if (one === null || mark === null || mark.kind === 'corner' || mark.kind === 'control') return false;
    actions.edit(`Remove ${markName(one.shape, mark)} of ${one.piece.name}`, (set) =>
      removeMarkFrom(set, one.piece.id, now().size, mark),
    );
    actions.select({ mark: null });
    return true;
  };

  return (
    <div
      ref={stage}
      class={`canvas tool-${state.area === 'pieces' ? state.tool : isTaping(state) ? 'tape' : 'none'}`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: an application is worked with keys, so it takes the focus
      tabIndex={0}
      role="application"
      aria-label={canvasLabel(state)}
      aria-describedby="canvas-help"
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={() => {
        gesture.current = null;
        actions.patch({ draft: null });
      }}
      onContextMenu={(event) => event.preventDefault()}
      onWheel={wheel}
      onKeyDown={keyDown}
      onKeyUp={(event) => {
        if (event.key === ' ') spaceDown.current = false;
      }}
      onBlur={() => {
        spaceDown.current = false;
      }}
    >
      <canvas ref={canvas} />
      {set !== null && (
        <GraspHandles
          handles={handlesOf(state, layNow())}
          set={set}
          actions={actions}
          toPx={(place) => pixelAt(view.current, place, screen.current)}
          toPlace={(event) => placeOf(pixelOf(event))}
          layOut={layOutHandles}
        />
      )}
      {isTaping(state) && <div class="crosshair" aria-hidden="true" />}
    </div>
  );
}

/** Whether a click on the photo picks an end of a taped distance. */
function isTaping({ area, shown, capture }: WindowState): boolean {
  return area === 'photos' && shown?.kind === 'photo' && capture.taping?.photo === shown.photo;
}

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

function isMoved({ fromPx }: Gesture, px: Point): boolean {
  return Math.hypot(px[0] - fromPx[0], px[1] - fromPx[1]) > CLICK_PX;
}

/** The piece under a place, or whose line or marks are within reach; the selected one first. */
function pieceAt(scene: Scene, at: Point, reachMm: number): ScenePiece | null {
  const order = scene.pieces.toSorted((a, b) => Number(b.isSelected) - Number(a.isSelected));
  for (const one of order) {
    const inPiece = apply(invert(one.canvasFromPiece), at);
    if (pointInPolygon(inPiece, outlineOf(one.shape)) || nearestEdge(one.shape, inPiece).distanceMm <= reachMm)
      return one;
    const marks = one.isSelected ? marksOf(one.shape, one.selectedEdge) : [];
    if (marks.some((mark) => Math.hypot(mark.at[0] - inPiece[0], mark.at[1] - inPiece[1]) <= reachMm)) return one;
  }
  return null;
}

/** Goes there in a moment, or at once where the person wants no motion. Gives a function that stops it. */
function travel(from: Viewport, to: Viewport, look: (view: Viewport) => void): (() => void) | undefined {
  if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
    look(to);
    return undefined;
  }
  const startMs = performance.now();
  let frame = 0;
  const step = (nowMs: number) => {
    const ratio = Math.min(1, Math.max(0, (nowMs - startMs) / GO_MS));
    look(between(from, to, 1 - (1 - ratio) ** 3));
    if (ratio < 1) frame = requestAnimationFrame(step);
  };
  frame = requestAnimationFrame(step);
  return () => cancelAnimationFrame(frame);
}

function canvasLabel(state: WindowState): string {
  const set = currentSet(state);
  if (set === null) return 'Canvas, empty';
  const piece = set.pieces.find(({ id }) => id === state.selection.piece);
  const shape = piece?.shapes[state.size];
  const { mark } = state.selection;
  const held = shape !== undefined && mark !== null ? `; ${markName(shape, mark)} is selected` : '';
  return piece === undefined ? `Canvas with ${set.pieces.length} pieces` : `Canvas, ${piece.name}${held}`;
}
