// The amounts that an alteration or a remedy asks for, as plain data: what the window shows as fields and the command line
// as options, and what the history keeps so that the step can be repeated.
import { fail, ok, type Result } from '../base/result.ts';

export interface AmountSpec {
  readonly name: string;
  readonly unit: 'mm' | 'deg' | 'count';
  /** null = must be given, unless `like` names the amount that it equals when it is not. */
  readonly default: number | null;
  readonly like?: string;
  readonly min: number;
  readonly max: number;
  /** What the amount means, for the person. */
  readonly sentence: string;
}

/** The id of a piece, edge, dart, notch, seam or size. */
export interface NameSpec {
  readonly name: string;
  readonly unit: 'name';
  /** '' = none, or all of them where the sentence says so; null = must be given. */
  readonly default: string | null;
  readonly sentence: string;
}

export type ParamSpec = AmountSpec | NameSpec;
export type Params = Readonly<Record<string, string | number>>;

/** Amounts and names with defaults filled in, each known to be there. */
export interface Values {
  readonly amount: (name: string) => number;
  readonly name: (name: string) => string;
  readonly all: Params;
}

/** The amount as it stands: given, like the one that it follows, or by default; null = not said yet. */
export function amountGiven(specs: readonly ParamSpec[], given: Params, name: string): number | null {
  const spec = specs.find((one) => one.name === name);
  if (spec === undefined || spec.unit === 'name') return null;
  const value = given[name];
  if (typeof value === 'number') return value;
  return spec.like === undefined ? spec.default : amountGiven(specs, given, spec.like);
}

/**
 * The given values judged against what is asked for; unknown names and amounts out of range are refused.
 * @param called what the person who gives them calls each
 */
export function readParams(
  specs: readonly ParamSpec[],
  given: Params,
  called: (name: string) => string = quoted,
): Result<Values> {
  const unknown = Object.keys(given).find((name) => !specs.some((spec) => spec.name === name));
  if (unknown !== undefined) {
    const known = specs.map(({ name }) => name).join(', ');
    return fail('unknown-amount', `There is no amount called "${unknown}" here; possible are ${known}.`);
  }
  const all: Record<string, string | number> = {};
  for (const spec of specs) {
    const liked = spec.unit === 'name' || spec.like === undefined ? undefined : all[spec.like];
    const value = given[spec.name] ?? liked ?? spec.default;
    if (value === null)
      return fail('amount-missing', `${called(spec.name)} is missing: ${spec.sentence} Say it and try again.`);
    if (spec.unit === 'name') {
      all[spec.name] = String(value);
      continue;
    }
    if (typeof value !== 'number' || !Number.isFinite(value))
      return fail('not-a-number', `${called(spec.name)} should be a number, not "${value}".`);
    if (value < spec.min || value > spec.max)
      return fail(
        'out-of-range',
        `${called(spec.name)} is ${value}; it may be ${spec.min} to ${spec.max}${unitWord(spec.unit)}.`,
      );
    if (spec.unit === 'count' && !Number.isInteger(value))
      return fail('not-whole', `${called(spec.name)} should be a whole number, not ${value}.`);
    all[spec.name] = value;
  }
  return ok({
    all,
    amount: (name) => {
      const value = all[name];
      if (typeof value !== 'number') throw new Error(`no amount ${name}`);
      return value;
    },
    name: (name) => {
      const value = all[name];
      if (typeof value !== 'string') throw new Error(`no name ${name}`);
      return value;
    },
  });
}

function quoted(name: string): string {
  return `"${name}"`;
}

function unitWord(unit: AmountSpec['unit']): string {
  return unit === 'count' ? '' : unit === 'deg' ? ' degrees' : ' mm';
}
