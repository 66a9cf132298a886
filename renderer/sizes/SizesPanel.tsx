// The step "Sizes": every seam in every size, its difference and what the checks say of it; choosing a cell shows that seam in
// that size on the canvas. Arrow keys go from cell to cell.
import { useMemo } from 'preact/hooks';
import type { LengthText } from '../../shared/base/lengthText.ts';
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';
import { type SizeCell, type SizeRow, sizeTable } from '../../shared/checks/sizeTable.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { signOf } from '../../shared/report/gravitySign.ts';
import type { Actions } from '../app/actions.ts';
import { lengthsOf } from '../app/lengths.ts';
import { Sign } from '../findings/Sign.tsx';
import { contextFor } from '../seams/seamWalks.ts';
import { currentSet, type WindowState } from '../state/windowState.ts';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

export function SizesPanel({ state, actions }: Props) {
  const set = currentSet(state);
  const { findings } = state;
  const rows = useMemo(
    () => (set === null ? [] : sizeTable(contextFor(set), findings?.findings ?? [])),
    [set, findings],
  );
  if (set === null) return <aside class="panel" aria-label="Sizes" />;
  const chosen = chosenCell(rows, state);
  return (
    <aside class="panel" aria-label="Sizes">
      <h2>Sizes</h2>
      <p>{introOf(set)}</p>
      {set.seams.length > 0 && <Table rows={rows} set={set} state={state} actions={actions} />}
      {chosen !== null && <Chosen row={chosen.row} cell={chosen.cell} lengths={lengthsOf(state)} actions={actions} />}
    </aside>
  );
}

function introOf(set: PatternSet): string {
  if (set.seams.length === 0) return 'No seams yet: say in the step Seams what is sewn together.';
  return set.sizes.length === 1
    ? `This set has one size, ${set.sizes[0]}. Trace another size of the same pieces and it stands here beside it.`
    : 'How much longer the second side of each seam is than the first, with its uncertainty.';
}

function Table({ rows, set, state, actions }: Props & { readonly rows: readonly SizeRow[]; readonly set: PatternSet }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled with the keys
    <section class="table-scroll" tabIndex={0} aria-label="Seams by size">
      <table class="sizes">
        <thead>
          <tr>
            <th scope="col">Seam</th>
            {set.sizes.map((size) => (
              <th key={size} scope="col">
                {size}
                {size === set.baseSize && set.sizes.length > 1 && <small> base</small>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody onKeyDown={moveAmongCells}>
          {rows.map((row) => (
            <tr key={row.seam}>
              <th scope="row">{row.name}</th>
              {row.cells.map((cell) => (
                <td key={cell.size}>
                  <Cell row={row} cell={cell} state={state} actions={actions} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Cell({ row, cell, state, actions }: Props & { readonly row: SizeRow; readonly cell: SizeCell }) {
  const { difference, finding, size } = cell;
  const lengths = lengthsOf(state);
  if (difference === null) return <span class="empty">not traced</span>;
  const sign = finding === null ? null : signOf(finding);
  const isChosen = state.selection.seam === row.seam && state.size === size;
  return (
    <button
      type="button"
      class="cell"
      aria-pressed={isChosen}
      aria-label={`${row.name}, size ${size}: ${valueWords(cell, lengths)}, ${sign?.word ?? 'not judged'}`}
      onClick={() => {
        actions.patch({ size });
        actions.select({ seam: row.seam });
        actions.goTo({ kind: 'seam', seam: row.seam });
      }}
    >
      <span class="value">
        {lengths.signed(difference.valueMm)} <small>± {lengths.spread(COVERAGE_FACTOR * difference.sigmaMm)}</small>
      </span>
      <span class="verdict" style={{ color: sign?.colour }}>
        {sign !== null && <Sign sign={sign} />}
        {sign?.word ?? 'not judged'}
      </span>
    </button>
  );
}

function valueWords({ difference, basis }: SizeCell, lengths: LengthText): string {
  if (difference === null) return 'not traced';
  const half = basis === 'half' ? ' on the half' : '';
  return `${lengths.signedWords(difference.valueMm, COVERAGE_FACTOR * difference.sigmaMm)}${half}`;
}

interface ChosenProps {
  readonly row: SizeRow;
  readonly cell: SizeCell;
  readonly lengths: LengthText;
  readonly actions: Actions;
}

function Chosen({ row, cell, lengths, actions }: ChosenProps) {
  return (
    <section class="chosen" aria-label="Chosen seam" aria-live="polite">
      <h3>
        {row.name}, size {cell.size}
      </h3>
      <p class="numbers">{valueWords(cell, lengths)}</p>
      {cell.finding !== null && <p>{cell.finding.sentence}</p>}
      <button
        type="button"
        onClick={() => {
          actions.show('seams');
          actions.goTo({ kind: 'seam', seam: row.seam });
        }}
      >
        Go to this seam
      </button>
    </section>
  );
}

function chosenCell(rows: readonly SizeRow[], { selection, size }: WindowState) {
  const row = rows.find(({ seam }) => seam === selection.seam);
  const cell = row?.cells.find((one) => one.size === size);
  return row === undefined || cell === undefined || cell.difference === null ? null : { row, cell };
}

const STEPS: Readonly<Record<string, readonly [row: number, column: number]>> = {
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
};

function moveAmongCells(event: KeyboardEvent): void {
  const step = STEPS[event.key];
  const cell = event.target instanceof HTMLElement ? event.target.closest('td') : null;
  const row = cell?.closest('tr');
  const body = row?.closest('tbody');
  if (step === undefined || !cell || !row || !body) return;
  const to = body.rows.item(row.sectionRowIndex + step[0])?.cells.item(cell.cellIndex + step[1]);
  const button = to?.querySelector('button');
  if (!button) return;
  button.focus();
  event.preventDefault();
}
