// How numbers are spoken in findings: millimetres, centimetres or inches to a sixteenth, with the uncertainty beside them.
import { inches } from '../base/lengthText.ts';
import { type LengthUnit, MM_PER } from '../base/units.ts';
import type { Edge } from '../pattern/model.ts';
import { expanded } from './verdict.ts';

/** Speaks lengths and angles in the units of the set. Values come in as millimetres and degrees. */
export interface Words {
  readonly length: (mm: number) => string;
  /** The length with its expanded uncertainty: "4.1 ± 0.5 mm". */
  readonly uncertain: (mm: number, sigmaMm: number) => string;
  readonly angle: (deg: number) => string;
  readonly uncertainAngle: (deg: number, sigmaDeg: number) => string;
}

/** An uncertainty is never rounded to nothing. */
const LEAST_STATED_DEG = 0.1;

/** What an edge is called: one that nobody has named by its id. */
export function edgeName({ id, label }: Pick<Edge, 'id' | 'label'>): string {
  return label === '' ? id : label;
}

/** "armhole edge"; "edge 3" is one already. */
export function edgeWords(label: string): string {
  return /\bedge\b/i.test(label) ? label : `${label} edge`.trimStart();
}

/** "Skirt is" and "Front and back are". */
export function isOrAre(names: string): string {
  return `${names} ${/ and /.test(names) ? 'are' : 'is'}`;
}

export function wordsIn(units: LengthUnit): Words {
  return WORDS[units];
}

function makeWords(units: LengthUnit): Words {
  const bare = (mm: number) => bareLength(mm, units);
  return {
    length: (mm) => `${bare(mm)} ${units}`,
    uncertain: (mm, sigmaMm) => `${bare(mm)} ± ${bareUncertainty(expanded(sigmaMm), units)} ${units}`,
    angle: (deg) => `${bareAngle(deg)}°`,
    uncertainAngle: (deg, sigmaDeg) =>
      `${bareAngle(deg)} ± ${Math.max(expanded(sigmaDeg), LEAST_STATED_DEG).toFixed(1)}°`,
  };
}

const WORDS: Readonly<Record<LengthUnit, Words>> = {
  mm: makeWords('mm'),
  cm: makeWords('cm'),
  in: makeWords('in'),
};

function bareLength(mm: number, units: LengthUnit): string {
  if (units === 'mm') return trimmed(mm.toFixed(1));
  if (units === 'cm') return trimmed((mm / 10).toFixed(2));
  return inches(mm);
}

function bareAngle(deg: number): string {
  const text = deg.toFixed(1);
  return text === '-0.0' ? '0.0' : text;
}

/** An uncertainty is never rounded to nothing, and in inches it is given as a decimal: sixteenths are too coarse. */
function bareUncertainty(mm: number, units: LengthUnit): string {
  if (units === 'mm') return Math.max(mm, 0.1).toFixed(1);
  if (units === 'cm') return Math.max(mm / 10, 0.01).toFixed(2);
  return Math.max(mm / MM_PER.in, 0.01).toFixed(2);
}

function trimmed(text: string): string {
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}
