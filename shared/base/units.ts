// Units of length at the edges of the program: inside, everything is millimetres.

/** Millimetres of a unit that people or files give lengths in; the inch is exact by definition. */
export const MM_PER = { mm: 1, cm: 10, in: 25.4 } as const;
export type LengthUnit = keyof typeof MM_PER;

/** PDF user space: 72 points an inch (ISO 32000-1, 8.3.2.3). */
export const POINTS_PER_MM = 72 / MM_PER.in;
