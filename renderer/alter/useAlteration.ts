// An alteration worked out by the host while its amounts are being chosen: one request at a time, the newest amounts next, so
// that a slider never waits for a queue.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { PatternSet } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import type { Altered } from '../app/changeActions.ts';
import type { Altering } from '../state/windowState.ts';

export type AlterOutcome =
  | { readonly kind: 'none' | 'working' }
  | { readonly kind: 'refused'; readonly sentence: string }
  | { readonly kind: 'altered'; readonly altered: Altered };

interface Request {
  readonly set: PatternSet;
  readonly asked: Altering;
}

/** The newest outcome, which is also shown on the canvas as a preview. */
export function useAlteration(set: PatternSet | null, asked: Altering | null, actions: Actions): AlterOutcome {
  const [outcome, setOutcome] = useState<AlterOutcome>({ kind: 'none' });
  const wanted = useRef<Request | null>(null);
  const isRunning = useRef(false);
  const key = asked === null ? null : JSON.stringify(asked);

  const run = async () => {
    if (isRunning.current) return;
    isRunning.current = true;
    for (let request = wanted.current; request !== null; request = next(wanted.current, request)) {
      const reply = await actions.proposeAlteration(request.set, request.asked);
      if (wanted.current !== request) continue;
      setOutcome(
        reply.ok ? { kind: 'altered', altered: reply.value } : { kind: 'refused', sentence: reply.error.sentence },
      );
      actions.preview(reply.ok ? reply.value : null);
    }
    isRunning.current = false;
  };
  useEffect(() => {
    wanted.current = set === null || asked === null ? null : { set, asked };
    if (wanted.current === null) {
      setOutcome({ kind: 'none' });
      actions.preview(null);
      return;
    }
    setOutcome((before) => (before.kind === 'altered' ? before : { kind: 'working' }));
    void run();
  }, [set, key]);
  useEffect(
    () => () => {
      wanted.current = null;
    },
    [],
  );
  return outcome;
}

/** What is wanted now, when it is not what was just answered. */
function next(now: Request | null, answered: Request): Request | null {
  return now === answered ? null : now;
}
