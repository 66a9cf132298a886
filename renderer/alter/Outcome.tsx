// What an alteration would do, before it is applied: what must follow and what each of these gets, what that moved in turn, and
// the edges that change.
import { edgeLabel } from '../../shared/alter/words.ts';
import { lengthTextIn } from '../../shared/base/lengthText.ts';
import { pieceById } from '../../shared/pattern/lookUp.ts';
import type { Altered, Proposed } from '../app/changeActions.ts';
import type { AlterOutcome } from './useAlteration.ts';

interface Props {
  readonly outcome: AlterOutcome;
  /** Every amount that is needed was said. */
  readonly isComplete: boolean;
  readonly onShow: () => void;
  readonly onApply: (proposed: Proposed) => void;
}

export function Outcome({ outcome, isComplete, onShow, onApply }: Props) {
  return (
    <section aria-label="What it would do" aria-live="polite">
      {!isComplete && (
        <p>Drag a handle on the canvas, move the slider or type an amount: the change is shown before it is made.</p>
      )}
      {outcome.kind === 'working' && <p>Working it out …</p>}
      {outcome.kind === 'refused' && <p class="note">{outcome.sentence}</p>}
      {outcome.kind === 'altered' && isComplete && (
        <>
          <p class="numbers">{outcome.altered.sentence}</p>
          <div class="row">
            <button type="button" onClick={onShow}>
              Show it near
            </button>
            <button type="button" class="main" onClick={() => onApply(outcome.altered)}>
              Apply
            </button>
          </div>
          <Consequences altered={outcome.altered} />
        </>
      )}
    </section>
  );
}

function Consequences({ altered }: { readonly altered: Altered }) {
  const { set, edges, followers, carried, left } = altered;
  const lengths = lengthTextIn(set.displayUnits);
  const first = new Set(followers.map(keyOf));
  const further = carried.filter((one) => !first.has(keyOf(one)));
  return (
    <>
      <h4>What must follow</h4>
      {followers.length === 0 && <p>Nothing has to follow.</p>}
      {followers.length > 0 && (
        <ul class="followers" aria-label="What must follow">
          {followers.map((follower) => (
            <li key={keyOf(follower)}>
              {follower.sentence}
              <Gets altered={altered} of={keyOf(follower)} />
            </li>
          ))}
        </ul>
      )}
      {further.length > 0 && (
        <>
          <h4>Moved by that in turn</h4>
          <ul class="followers" aria-label="Moved by that in turn">
            {further.map((one, i) => (
              <li key={`${i} ${keyOf(one)}`}>{one.sentence}</li>
            ))}
          </ul>
        </>
      )}
      {followers.length > 0 && (
        <p>
          <strong>{left.length === 0 ? 'Nothing is left behind.' : leftWords(left.length)}</strong>
        </p>
      )}
      <details>
        <summary>Edges that change</summary>
        <ul>
          {edges.map(({ piece, edge, size, byMm }) => (
            <li key={`${piece} ${edge} ${size}`}>
              {pieceById(set, piece)?.name ?? piece}, {edgeLabel(set, piece, edge, size)}, size {size}:{' '}
              {lengths.signed(byMm)} {lengths.unit}
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}

/** What a seam that must follow gets, or why it gets nothing. */
function Gets({ altered: { carried, left }, of }: { readonly altered: Altered; readonly of: string }) {
  const got = carried.filter((one) => keyOf(one) === of);
  const missing = left.find((one) => keyOf(one) === of);
  return (
    <>
      {got.map(({ sentence }) => (
        <small key={sentence} class="gets">
          {sentence}
        </small>
      ))}
      {missing !== undefined && <small class="gets missing">Not carried through. {missing.reason}</small>}
    </>
  );
}

function leftWords(count: number): string {
  return `${count} ${count === 1 ? 'seam is' : 'seams are'} left behind: the checks will say so until what is sewn to it follows.`;
}

function keyOf({ seam, size }: { readonly seam: string; readonly size: string }): string {
  return `${seam} ${size}`;
}
