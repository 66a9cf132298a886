// The handles of an alteration over the canvas: dragged with the pointer or pushed with the arrow keys, each a slider of its
// amount. Escape takes back what is being dragged, or what was said. Nothing is made until it is applied.
import { useLayoutEffect, useRef } from 'preact/hooks';
import { lengthWords } from '../../../shared/alter/words.ts';
import type { Point } from '../../../shared/base/points.ts';
import { add, sub } from '../../../shared/geometry/vector.ts';
import type { PatternSet } from '../../../shared/pattern/model.ts';
import type { Actions } from '../../app/actions.ts';
import {
  allowed,
  amountAt,
  FAR_STEPS,
  type Handle,
  headingDeg,
  placeOf,
  STEP_MM,
  stepped,
  stepsOf,
} from './handles.ts';

interface Props {
  readonly handles: readonly Handle[];
  readonly set: PatternSet;
  readonly actions: Actions;
  /** Canvas millimetres → pixels of the canvas, and from the pointer back. */
  readonly toPx: (place: Point) => Point;
  readonly toPlace: (event: PointerEvent) => Point;
  /** Filled with what lays the handles where they belong after the view has moved. */
  readonly layOut: { current: (() => void) | null };
}

interface Drag {
  readonly key: string;
  /** From where the pointer went down to the handle's own place. */
  readonly grip: Point;
  readonly before: number | null;
}

export function GraspHandles({ handles, set, actions, toPx, toPlace, layOut }: Props) {
  const elements = useRef(new Map<string, HTMLElement>());
  const drag = useRef<Drag | null>(null);
  const stepMm = STEP_MM[set.displayUnits];
  const place = () => {
    for (const handle of handles) {
      const [x, y] = toPx(placeOf(handle));
      const element = elements.current.get(handle.key);
      if (element !== undefined) element.style.translate = `${x}px ${y}px`;
    }
  };
  layOut.current = place;
  useLayoutEffect(place);

  const down = (handle: Handle, event: PointerEvent) => {
    event.stopPropagation();
    if (event.button !== 0 || !(event.currentTarget instanceof HTMLElement)) return;
    event.preventDefault();
    event.currentTarget.focus({ preventScroll: true });
    event.currentTarget.setPointerCapture(event.pointerId);
    const before = handle.isSaid ? handle.amountMm : null;
    drag.current = { key: handle.key, grip: sub(placeOf(handle), toPlace(event)), before };
  };
  const move = (handle: Handle, event: PointerEvent) => {
    const held = drag.current;
    if (held?.key !== handle.key) return;
    const amountMm = amountAt(handle, add(toPlace(event), held.grip), stepMm);
    if (amountMm !== handle.amountMm) actions.say(handle.grasp.param, amountMm);
  };
  const giveBack = (handle: Handle) => {
    actions.say(handle.grasp.param, drag.current?.before ?? null);
    drag.current = null;
  };
  const keyDown = (handle: Handle, event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const steps = stepsOf(handle, event.key) * (event.shiftKey ? FAR_STEPS : 1);
    if (event.key === 'Escape') giveBack(handle);
    else if (steps !== 0) actions.say(handle.grasp.param, allowed(handle, stepped(handle.amountMm, steps, stepMm)));
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <>
      {handles.map((handle, i) => {
        const { key, spec, pieceName, amountMm, isSaid } = handle;
        const words = lengthWords(set, amountMm);
        return (
          <div
            key={key}
            ref={(element) => {
              if (element === null) elements.current.delete(key);
              else elements.current.set(key, element);
            }}
            class="grasp"
            role="slider"
            tabIndex={0}
            aria-label={`${spec.sentence.replace(/\.$/, '')}: handle on ${pieceName}`}
            aria-valuemin={spec.min}
            aria-valuemax={allowed(handle, spec.max)}
            aria-valuenow={amountMm}
            aria-valuetext={isSaid ? words : `${words}, nothing changed yet`}
            data-said={isSaid}
            data-lead={handles.findIndex(({ spec: { name } }) => name === spec.name) === i}
            onPointerDown={(event) => down(handle, event)}
            onPointerMove={(event) => move(handle, event)}
            onPointerUp={() => {
              drag.current = null;
            }}
            onPointerCancel={() => giveBack(handle)}
            onKeyDown={(event) => keyDown(handle, event)}
          >
            <svg
              class="grasp-sign"
              viewBox="-12 -12 24 24"
              aria-hidden="true"
              style={{ rotate: `${headingDeg(handle)}deg` }}
            >
              <circle r="10" />
              <path fill="none" d="M-7 0H7M3-4L7 0 3 4M-3-4L-7 0-3 4" />
            </svg>
            <span class="grasp-amount">{words}</span>
          </div>
        );
      })}
    </>
  );
}
