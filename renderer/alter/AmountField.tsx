// One amount of an alteration, by slider or by number: both say the same at once, so that the canvas follows the hand.
import { useId } from 'preact/hooks';
import type { AmountSpec } from '../../shared/alter/params.ts';

interface Props {
  readonly spec: AmountSpec;
  /** Null = not said. */
  readonly value: number | null;
  readonly onChange: (name: string, value: number) => void;
}

const UNITS: Readonly<Record<AmountSpec['unit'], string>> = { mm: 'mm', deg: '°', count: '' };
const STEPS: Readonly<Record<AmountSpec['unit'], number>> = { mm: 0.5, deg: 0.5, count: 1 };

export function AmountField({ spec, value, onChange }: Props) {
  const id = useId();
  const { name, unit, min, max, sentence } = spec;
  const shown = value ?? spec.default;
  const resting = Math.min(Math.max(0, min), max);
  return (
    <div class="field number">
      <label for={`${id}-number`}>{sentence.replace(/\.$/, '')}</label>
      <input
        type="range"
        aria-label={`Slider: ${sentence}`}
        min={min}
        max={max}
        step={STEPS[unit]}
        value={shown ?? resting}
        aria-valuetext={shown === null ? 'not said' : `${shown} ${UNITS[unit]}`}
        onInput={(event) => onChange(name, Number(event.currentTarget.value))}
      />
      <span class="with-unit">
        <input
          id={`${id}-number`}
          type="number"
          min={min}
          max={max}
          step="any"
          value={shown ?? ''}
          onInput={(event) => {
            const typed = event.currentTarget.valueAsNumber;
            if (Number.isFinite(typed)) onChange(name, typed);
          }}
        />
        <span>{UNITS[unit]}</span>
      </span>
    </div>
  );
}
