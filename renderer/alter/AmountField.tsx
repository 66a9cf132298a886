// One amount of an alteration, by slider or by number: both say the same at once, so that the canvas follows the hand. Lengths
// are shown and taken in the units of the set.
import { useId, useState } from 'preact/hooks';
import type { AmountSpec } from '../../shared/alter/params.ts';
import { lengthWords } from '../../shared/alter/words.ts';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { plainNumber } from '../app/Field.tsx';
import { fieldText, typedMm } from '../app/lengths.ts';
import { FAR_STEPS, STEP_MM, stepped } from '../tools/grasp/handles.ts';

interface Props {
  readonly spec: AmountSpec;
  readonly units: PatternSet['displayUnits'];
  /** What this set has room for, where that is less than the amount may be; null = not known. */
  readonly mostMm: number | null;
  /** Null = not said. */
  readonly value: number | null;
  readonly onChange: (name: string, value: number) => void;
}

const STEPS = { deg: 0.5, count: 1 } as const;

export function AmountField({ spec, units, mostMm, value, onChange }: Props) {
  const id = useId();
  const { name, unit, min, sentence } = spec;
  const max = Math.min(spec.max, mostMm ?? spec.max);
  const isLength = unit === 'mm';
  const words = (amount: number) =>
    isLength ? lengthWords({ displayUnits: units }, amount) : `${amount}${unit === 'deg' ? '°' : ''}`;
  const shown = (amount: number) => (isLength ? fieldText(units, amount) : String(amount));
  /** As it stands in the field while it is typed. */
  const [typing, setTyping] = useState<string | null>(null);
  const stepMm = STEP_MM[units];
  const within = (amount: number) => Math.min(Math.max(amount, min), max);
  const resting = within(0);
  return (
    <div class="field amount">
      <label for={`${id}-number`}>{sentence.replace(/\.$/, '')}</label>
      <input
        type="range"
        aria-label={`Slider: ${sentence}`}
        min={min}
        max={max}
        step={isLength ? 'any' : STEPS[unit]}
        value={value ?? resting}
        aria-valuetext={value === null ? 'not said' : words(value)}
        onKeyDown={(event) => {
          const steps = isLength ? KEY_STEPS[event.key] : undefined;
          if (steps === undefined) return;
          onChange(name, within(stepped(value ?? resting, steps, stepMm)));
          event.preventDefault();
        }}
        onInput={(event) => {
          const amount = Number(event.currentTarget.value);
          onChange(name, isLength ? within(stepped(amount, 0, stepMm)) : amount);
        }}
      />
      <span class="with-unit">
        <input
          id={`${id}-number`}
          role="spinbutton"
          inputMode="decimal"
          aria-valuemin={min}
          aria-valuemax={max}
          aria-valuenow={value ?? undefined}
          aria-valuetext={value === null ? 'not said' : words(value)}
          value={typing ?? (value === null ? '' : shown(value))}
          onInput={(event) => {
            const text = event.currentTarget.value;
            setTyping(text);
            const said = isLength ? typedMm(units, text) : plainNumber(text);
            if (said !== null) onChange(name, said);
          }}
          onBlur={() => setTyping(null)}
        />
        <span>{isLength ? units : unit === 'deg' ? '°' : ''}</span>
      </span>
    </div>
  );
}

/** Of a slider whose steps are not the browser's own: a sixteenth of an inch is no round number of millimetres. */
const KEY_STEPS: Readonly<Record<string, number>> = {
  ArrowRight: 1,
  ArrowUp: 1,
  ArrowLeft: -1,
  ArrowDown: -1,
  PageUp: FAR_STEPS,
  PageDown: -FAR_STEPS,
};
