// The table of fit, line by line: finished with its uncertainty, body, ease, and a word for it. Choosing a line shows on the
// pieces where it was measured.

import type { LengthText } from '../../shared/base/lengthText.ts';
import { COVERAGE_FACTOR } from '../../shared/base/measured.ts';
import { judgeInterval } from '../../shared/checks/verdict.ts';
import { signOf } from '../../shared/report/gravitySign.ts';
import type { Actions } from '../app/actions.ts';
import type { FitTable } from '../app/fitActions.ts';
import { lengthsOf } from '../app/lengths.ts';
import { Sign } from '../findings/Sign.tsx';
import type { WindowState } from '../state/windowState.ts';

type Line = FitTable['lines'][number];

interface Props {
  readonly table: FitTable;
  readonly state: WindowState;
  readonly actions: Actions;
}

const NOTES: Readonly<Record<Line['notes'][number], string>> = {
  'pleats-open': 'pleats hang open there',
  'by-band': 'held in by its band',
  'without-cuff': 'its cuff is not counted',
};

export function FitLines({ table: { lines }, state, actions }: Props) {
  const lengths = lengthsOf(state);
  if (lines.length === 0) return <p>No piece of this set shows a measure of a body.</p>;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled with the keys
    <section class="table-scroll" tabIndex={0} aria-label="Finished measures">
      <table class="fit">
        <thead>
          <tr>
            <th scope="col">Measure</th>
            <th scope="col">Finished, {lengths.unit}</th>
            <th scope="col">Body</th>
            <th scope="col">Ease</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.measure}>
              <th scope="row">
                <Name line={line} state={state} actions={actions} />
              </th>
              {line.finished === null ? (
                <td colSpan={3}>{line.problem}</td>
              ) : (
                <>
                  <td>
                    {lengths.bare(line.finished.valueMm)} ± {lengths.spread(COVERAGE_FACTOR * line.finished.sigmaMm)}
                    <small>{partWords(line, lengths)}</small>
                  </td>
                  <td>{line.bodyMm === null ? '–' : lengths.bare(line.bodyMm)}</td>
                  <td>
                    <Ease line={line} lengths={lengths} />
                  </td>
                </>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Name({ line, state, actions }: Omit<Props, 'table'> & { readonly line: Line }) {
  if (line.lines.length === 0) return <>{line.measure}</>;
  const isShown = state.measured?.measure === line.measure;
  return (
    <button
      type="button"
      class="cell"
      aria-pressed={isShown}
      title="Show where it was measured"
      onClick={() => {
        actions.patch({ measured: isShown ? null : { measure: line.measure, lines: line.lines } });
        actions.goTo(isShown ? { kind: 'all' } : { kind: 'measured' });
      }}
    >
      {line.measure}
    </button>
  );
}

function partWords({ finished, halfMm, passesMm, notes }: Line, lengths: LengthText): string {
  return [
    halfMm === null ? '' : `half ${lengths.bare(halfMm)}`,
    passesMm === null || passesMm === finished?.valueMm ? '' : `undone ${lengths.bare(passesMm)}`,
    ...notes.map((note) => NOTES[note]),
  ]
    .filter((words) => words !== '')
    .join(', ');
}

function Ease({
  line: { easeMm, leastEaseMm, finished, fitClass },
  lengths,
}: {
  readonly line: Line;
  readonly lengths: LengthText;
}) {
  if (easeMm === null || finished === null) return <>–</>;
  const decision =
    leastEaseMm === null ? null : judgeInterval(easeMm, finished.sigmaMm, leastEaseMm, Number.POSITIVE_INFINITY);
  const sign = decision === null ? null : signOf({ verdict: decision, gravity: 'look' });
  const words = decision === 'clear' ? 'enough' : decision === 'fault' ? 'less than usual' : 'measure again';
  return (
    <>
      {lengths.signed(easeMm)}
      {sign !== null && leastEaseMm !== null && (
        <span class="verdict" style={{ color: sign.colour }}>
          <Sign sign={sign} />
          {words}
        </span>
      )}
      <small>
        {leastEaseMm !== null && `${lengths.bare(leastEaseMm)} or more is usual`}
        {fitClass !== null && `, ${fitClass}`}
      </small>
    </>
  );
}
