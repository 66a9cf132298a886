// Fields that give their value when the person has finished typing, not at every key, so that one entry is one step to undo.
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { PatternSet } from '../../shared/pattern/model.ts';
import { fieldText, typedMm } from './lengths.ts';

interface TextProps {
  readonly label: string;
  readonly value: string;
  readonly onDone: (value: string) => void;
  readonly note?: string;
}

export function TextField({ label, value, onDone, note }: TextProps) {
  const id = useId();
  const [typed, setTyped] = useState(value);
  useEffect(() => setTyped(value), [value]);
  const done = () => {
    const text = typed.trim();
    if (text === '') setTyped(value);
    else if (text !== value) onDone(text);
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        value={typed}
        onInput={(event) => setTyped(event.currentTarget.value)}
        onBlur={done}
        onKeyDown={(event) => {
          if (event.key === 'Enter') done();
          if (event.key === 'Escape') setTyped(value);
        }}
      />
      {note !== undefined && <small>{note}</small>}
    </div>
  );
}

interface NumberProps {
  readonly label: string;
  readonly value: number | null;
  /** Written after the number. */
  readonly unit: string;
  readonly least?: number;
  readonly onDone: (value: number | null) => void;
  /** Words for an empty field; without them an empty field goes back to what it was. */
  readonly empty?: string;
}

interface LengthProps extends Omit<NumberProps, 'unit' | 'value'> {
  readonly units: PatternSet['displayUnits'];
  /** Given and taken in millimetres, shown and typed in the units. */
  readonly valueMm: number | null;
}

export function LengthField({ units, valueMm, ...rest }: LengthProps) {
  return (
    <TypedField
      {...rest}
      unit={units}
      shown={valueMm === null ? '' : fieldText(units, valueMm)}
      read={(typed) => typedMm(units, typed)}
    />
  );
}

export function NumberField({ value, ...rest }: NumberProps) {
  return <TypedField {...rest} shown={value === null ? '' : String(value)} read={plainNumber} />;
}

/** Null = no number. A comma is as good as a point. */
export function plainNumber(typed: string): number | null {
  const number = Number(typed.replace(',', '.'));
  return typed === '' || !Number.isFinite(number) ? null : number;
}

interface TypedProps extends Omit<NumberProps, 'value'> {
  readonly shown: string;
  /** Null = no number. */
  readonly read: (typed: string) => number | null;
}

function TypedField({ label, shown, read, unit, least, onDone, empty }: TypedProps) {
  const id = useId();
  const [typed, setTyped] = useState(shown);
  const given = useRef(shown);
  useEffect(() => {
    given.current = shown;
    setTyped(shown);
  }, [shown]);
  const done = () => {
    const text = typed.trim();
    // Enter and then leaving the field say the same thing twice.
    if (text === given.current) return;
    given.current = text;
    if (text === '' && empty !== undefined) return onDone(null);
    const number = read(text);
    if (number === null || (least !== undefined && number < least)) {
      given.current = shown;
      setTyped(shown);
    } else onDone(number);
  };
  return (
    <div class="field number">
      <label for={id}>{label}</label>
      <span class="with-unit">
        <input
          id={id}
          inputMode="decimal"
          value={typed}
          placeholder={empty}
          onInput={(event) => setTyped(event.currentTarget.value)}
          onBlur={done}
          onKeyDown={(event) => {
            if (event.key === 'Enter') done();
            if (event.key === 'Escape') setTyped(shown);
          }}
        />
        <span>{unit}</span>
      </span>
    </div>
  );
}

interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly choices: readonly (readonly [value: T, words: string])[];
  readonly onChoose: (value: T) => void;
}

export function Choice<T extends string>({ label, value, choices, onChoose }: ChoiceProps<T>) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => {
          const chosen = choices.find(([one]) => one === event.currentTarget.value);
          if (chosen !== undefined) onChoose(chosen[0]);
        }}
      >
        {choices.map(([one, words]) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

/** A part of a panel that can be folded away. */
export function Fold({
  title,
  open,
  children,
}: {
  readonly title: string;
  readonly open?: boolean;
  readonly children: ComponentChildren;
}) {
  return (
    <details class="fold" open={open}>
      <summary>{title}</summary>
      <div class="fold-body">{children}</div>
    </details>
  );
}
