// How often a piece is cut and from what, line by line.
import type { CutEntry, Piece } from '../../shared/pattern/model.ts';
import type { Actions } from '../app/actions.ts';
import { Choice, NumberField } from '../app/Field.tsx';
import { changePiece } from '../state/edits/pieces.ts';

const FIRST_ENTRY: CutEntry = { material: 'shell', count: 1, onFold: false, mirrored: false, allowanceMm: null };

type How = 'single' | 'fold' | 'mirrored';

export function CutList({ piece, actions }: { readonly piece: Piece; readonly actions: Actions }) {
  const put = (cut: readonly CutEntry[]) =>
    actions.edit(`Change the cut list of ${piece.name}`, (set) => changePiece(set, piece.id, { cut }));
  const change = (index: number, part: Partial<CutEntry>) =>
    put(piece.cut.map((entry, i) => (i === index ? { ...entry, ...part } : entry)));
  return (
    <>
      {piece.cut.map((entry, index) => (
        // Lines have no names of their own; their place is what they are.
        <div class="entry" key={index}>
          <Choice
            label="From"
            value={entry.material}
            choices={[
              ['shell', 'shell'],
              ['lining', 'lining'],
              ['facing', 'facing'],
              ['interfacing', 'interfacing'],
            ]}
            onChoose={(material) => change(index, { material })}
          />
          <NumberField
            label="Cut"
            unit="×"
            least={1}
            value={entry.count}
            onDone={(count) => change(index, { count: Math.round(count ?? 1) })}
          />
          <Choice<How>
            label="How"
            value={entry.onFold ? 'fold' : entry.mirrored ? 'mirrored' : 'single'}
            choices={[
              ['single', 'as it lies'],
              ['fold', 'on the fold'],
              ['mirrored', 'left and right'],
            ]}
            onChoose={(how) => change(index, { onFold: how === 'fold', mirrored: how === 'mirrored' })}
          />
          <button
            type="button"
            class="quiet"
            aria-label={`Remove the line for ${entry.material}`}
            onClick={() => put(piece.cut.filter((_, i) => i !== index))}
          >
            ×
          </button>
        </div>
      ))}
      <button type="button" class="wide" onClick={() => put([...piece.cut, FIRST_ENTRY])}>
        Add a line to the cut list
      </button>
    </>
  );
}
