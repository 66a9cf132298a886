// Whether a reading was wrong and kept silent about it: the one thing that a measuring instrument may not do. An outline is
// silently wrong where it is off over a stretch that nobody called unsure; a length, where it is off by more than its
// sigma can explain and no part of its edge is called unsure; a piece, where there is none.

const SILENT = {
  /** An outline is wrong where it is off by more. */
  outlineMm: 1,
  /** Shorter stretches are the rounding of a corner, which every trace has. */
  stretchMm: 5,
  /** A length is wrong when it is off by more than both. */
  lengthSigmas: 3,
  lengthMm: 0.5,
} as const;

/** What doubts a whole outline. `outline-unsure` only counts what is marked, so that it excuses nothing else. */
const WHOLE_OUTLINE_WARNINGS: readonly string[] = ['piece-faint'];

export interface OutlineSample {
  /** From this sample to the next along the closed outline. */
  readonly stepMm: number;
  /** Distance from the true outline. */
  readonly offMm: number;
  readonly isUnsure: boolean;
}

export interface JudgedLength {
  readonly errorMm: number;
  readonly sigmaMm: number;
  readonly isUnsure: boolean;
}

export interface Reading {
  /** One closed outline a piece that exists. */
  readonly outlines: readonly (readonly OutlineSample[])[];
  readonly lengths: readonly JudgedLength[];
  /** Pieces that are not there. */
  readonly invented: number;
  /** Codes of what was said about the photo. */
  readonly warnings: readonly string[];
}

export interface SilentFault {
  readonly kind: 'outline' | 'length' | 'piece';
  /** How far off; 0 for a piece. */
  readonly offMm: number;
}

export function silentFaults({ outlines, lengths, invented, warnings }: Reading): SilentFault[] {
  const wholeIsDoubted = warnings.some((code) => WHOLE_OUTLINE_WARNINGS.includes(code));
  const stretches = wholeIsDoubted ? [] : outlines.flatMap(wrongStretches);
  const wrongLengths = lengths.filter(isSilentLength).map(({ errorMm }) => Math.abs(errorMm));
  return [
    ...stretches.map((offMm): SilentFault => ({ kind: 'outline', offMm })),
    ...wrongLengths.map((offMm): SilentFault => ({ kind: 'length', offMm })),
    ...Array.from({ length: wholeIsDoubted ? 0 : invented }, (): SilentFault => ({ kind: 'piece', offMm: 0 })),
  ];
}

function isSilentLength({ errorMm, sigmaMm, isUnsure }: JudgedLength): boolean {
  const off = Math.abs(errorMm);
  return !isUnsure && off > SILENT.lengthMm && off > SILENT.lengthSigmas * sigmaMm;
}

/** The largest error of every stretch that is off and sure; a stretch may run over the end of the list. */
function wrongStretches(samples: readonly OutlineSample[]): number[] {
  const isWrong = ({ offMm, isUnsure }: OutlineSample) => !isUnsure && offMm > SILENT.outlineMm;
  const good = samples.findIndex((sample) => !isWrong(sample));
  const start = Math.max(good, 0);
  const found: number[] = [];
  let lengthMm = 0;
  let worstMm = 0;
  const end = () => {
    if (lengthMm >= SILENT.stretchMm) found.push(worstMm);
    lengthMm = 0;
    worstMm = 0;
  };
  for (let k = 0; k < samples.length; k++) {
    const sample = samples[(start + k) % samples.length]!;
    if (isWrong(sample)) {
      lengthMm += sample.stepMm;
      worstMm = Math.max(worstMm, sample.offMm);
    } else end();
  }
  end();
  return found;
}
