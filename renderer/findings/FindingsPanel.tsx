// The step "Findings": what was found, heaviest first; choosing one shows its place on the canvas, its numbers, why it matters
// and what mends it. Read by screen readers as a list; J and K go through it.
import { useEffect, useRef } from 'preact/hooks';
import { type LengthText, lengthTextIn } from '../../shared/base/lengthText.ts';
import type { FindingJson } from '../../shared/checks/toFindingsJson.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { signOf } from '../../shared/report/gravitySign.ts';
import { measuredText, measuredWithSpread } from '../../shared/report/measuredText.ts';
import type { Actions } from '../app/actions.ts';
import { Choice } from '../app/Field.tsx';
import { RulePage } from '../rules/RulePage.tsx';
import { keyed, passes } from '../state/findingKeys.ts';
import { currentSet, type FindingFilter, type WindowState } from '../state/windowState.ts';
import { Preset } from './Preset.tsx';
import { RemedyOffers } from './RemedyOffers.tsx';
import { Sign } from './Sign.tsx';

interface Props {
  readonly state: WindowState;
  readonly actions: Actions;
}

const FILTERS: readonly (readonly [FindingFilter, string])[] = [
  ['to-do', 'what to see to'],
  ['stop', 'stop: cannot be sewn'],
  ['mend', 'mend: will show'],
  ['look', 'look and note: practice varies'],
  ['unsure', 'measure again'],
  ['clear', 'what is clear'],
  ['all', 'everything'],
];

export function FindingsPanel({ state, actions }: Props) {
  const list = useRef<HTMLUListElement>(null);
  const heading = useRef<HTMLHeadingElement>(null);
  const set = currentSet(state);
  const shown = keyed(state.findings?.findings ?? []).filter(({ finding }) => passes(state.filter, finding));
  const choose = (key: string | null) => {
    const chosen = shown.find((one) => one.key === key)?.finding;
    const size = chosen?.subjects.find((subject) => subject.size !== undefined)?.size;
    if (size !== undefined) actions.patch({ size });
    actions.select({ finding: key });
    actions.goTo(key === null ? { kind: 'all' } : { kind: 'finding', finding: key });
  };
  useEffect(() => {
    const down = (event: KeyboardEvent) => {
      const typing = event.target instanceof HTMLElement && /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.tagName);
      if (typing || event.ctrlKey || event.metaKey || event.altKey) return;
      const step = event.key.toLowerCase() === 'j' ? 1 : event.key.toLowerCase() === 'k' ? -1 : 0;
      if (step === 0 || shown.length === 0) return;
      const at = shown.findIndex(({ key }) => key === state.selection.finding);
      const next = Math.min(Math.max(at + step, 0), shown.length - 1);
      choose(shown[next]!.key);
      list.current?.querySelectorAll<HTMLButtonElement>('button.item')[next]?.focus();
      event.preventDefault();
    };
    window.addEventListener('keydown', down);
    return () => window.removeEventListener('keydown', down);
  });
  return (
    <aside class="panel" aria-label="Findings">
      <h2 ref={heading} tabIndex={-1}>
        Findings
      </h2>
      <p role="status" class="summary">
        {summaryOf(state)}
      </p>
      <Choice
        label="Show"
        value={state.filter}
        choices={FILTERS}
        onChoose={(filter) => {
          actions.patch({ filter });
          choose(null);
        }}
      />
      <ul ref={list} class="list findings" aria-label="Findings">
        {shown.map(({ key, finding }) => {
          const isOpen = key === state.selection.finding;
          const sign = signOf(finding);
          return (
            <li key={key} data-rule={finding.rule}>
              <button
                type="button"
                class="item finding"
                aria-expanded={isOpen}
                onClick={() => choose(isOpen ? null : key)}
              >
                <Sign sign={sign} />
                <span>
                  <strong style={{ color: sign.colour }}>{sign.word}</strong>
                  <span class="sentence">{finding.sentence}</span>
                </span>
              </button>
              {isOpen && set !== null && (
                <FindingSheet
                  finding={finding}
                  set={set}
                  actions={actions}
                  onApplied={() => {
                    choose(null);
                    heading.current?.focus();
                  }}
                />
              )}
            </li>
          );
        })}
      </ul>
      {state.findings !== null && shown.length === 0 && <p>Nothing of this sort.</p>}
      {set !== null && <Preset set={set} actions={actions} />}
      <p class="care">
        Cut a cheap test garment first: a photo shows the shape of the paper, not how the cloth falls. Mind blades and
        pins, cut away from your hand. For children's clothes the local rules on cords, small parts and sleepwear come
        first; this does not test for them.
      </p>
      <div class="row">
        <button type="button" disabled={set === null} onClick={() => void actions.report()}>
          Report to print
        </button>
        <button type="button" onClick={() => actions.show('archive')}>
          Go on to the archive
        </button>
      </div>
    </aside>
  );
}

interface SheetProps {
  readonly finding: FindingJson;
  readonly set: PatternSet;
  readonly actions: Actions;
  readonly onApplied: () => void;
}

function FindingSheet({ finding, set, actions, onApplied }: SheetProps) {
  const numbers = numbersOf(finding, lengthTextIn(set.displayUnits));
  return (
    <div class="inset">
      {numbers !== '' && <p class="numbers">{numbers}</p>}
      {finding.limit !== undefined && <p class="source">Limit: {finding.limit.source}</p>}
      {finding.verdict === 'fault' && (
        <RemedyOffers finding={finding} set={set} actions={actions} onApplied={onApplied} />
      )}
      {finding.remedies.length > 0 && (
        <>
          <h4>What to do by hand</h4>
          <ul>
            {finding.remedies.map(({ sentence }) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </>
      )}
      {finding.consequences.length > 0 && (
        <>
          <h4>From the same cause</h4>
          <ul>
            {finding.consequences.map((one) => (
              <li key={one.sentence}>{one.sentence}</li>
            ))}
          </ul>
        </>
      )}
      <RulePage rule={finding.rule} why={finding.why} />
    </div>
  );
}

function numbersOf({ measured, limit }: FindingJson, lengths: LengthText): string {
  if (measured === undefined || measured.unit === 'count') return '';
  const allowed = limit === undefined ? '' : `, ${measuredText({ ...measured, value: limit.value }, lengths)} allowed`;
  return `Measured ${measuredWithSpread(measured, lengths)}${allowed}`;
}

function summaryOf({ findings, checking }: WindowState): string {
  if (findings === null) return checking ? 'Checking …' : 'Nothing to check yet: read a photo first.';
  const { stop, mend, look, note, unsure, clear } = findings.counts;
  const parts = [
    `${stop} to stop for`,
    `${mend} to mend`,
    `${look + note} to look at`,
    `${unsure} to measure again`,
    `${clear} clear`,
  ];
  return `${parts.join(', ')}.${checking ? ' Checking again …' : ''}`;
}
