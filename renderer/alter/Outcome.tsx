// What an alteration would do, before it is applied: the edges that change, what must follow, what was carried through and what
// is left behind.
import type { PatternSet } from '../../shared/pattern/model.ts';
import { signed } from '../../shared/report/seamRuler.ts';
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
      {!isComplete && <p>Move the slider or type an amount: the change is shown before it is made.</p>}
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

function Consequences({ altered: { set, edges, followers, carried, left } }: { readonly altered: Altered }) {
  return (
    <>
      <h4>What must follow</h4>
      <Sentences
        label="What must follow"
        of={followers.map(({ sentence }) => sentence)}
        none="Nothing has to follow."
      />
      {carried.length > 0 && (
        <>
          <h4>Carried through</h4>
          <Sentences label="Carried through" of={carried} none="" />
        </>
      )}
      {followers.length > 0 && (
        <>
          <h4>Left behind</h4>
          <Sentences
            label="Left behind"
            of={left.map(({ sentence, reason }) => `${sentence}${reason === null ? '' : ` ${reason}`}`)}
            none="Nothing is left behind."
          />
        </>
      )}
      <details>
        <summary>Edges that change</summary>
        <ul>
          {edges.map(({ piece, edge, size, byMm }) => (
            <li key={`${piece} ${edge} ${size}`}>
              {edgeName(set, piece, edge, size)}, size {size}: {signed(byMm)} mm
            </li>
          ))}
        </ul>
      </details>
    </>
  );
}

function edgeName(set: PatternSet, pieceId: string, edgeId: string, size: string): string {
  const piece = set.pieces.find(({ id }) => id === pieceId);
  const edge = piece?.shapes[size]?.ring.find(({ id }) => id === edgeId);
  return `${piece?.name ?? pieceId}, ${edge?.label ?? edgeId}`;
}

function Sentences({
  label,
  of,
  none,
}: {
  readonly label: string;
  readonly of: readonly string[];
  readonly none: string;
}) {
  if (of.length === 0) return <p>{none}</p>;
  return (
    <ul aria-label={label}>
      {of.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}
