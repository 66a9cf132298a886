// How far off a line may lie where no photo showed it well: one table for whoever reads such a line.

/**
 * Standard deviation of where a point of such a line lies, millimetres across the line, by the reason of the doubt. Measured on
 * rendered scenes: a shadow's rim taken for the edge lies up to 5 mm off, a faint edge up to 3 mm, a bridge is straight on.
 */
export const UNSURE_SIGMA_MM = { shadow: 2.5, 'weak-edge': 1.5, covered: 1, gap: 1 } as const;

/** Nothing was seen there: the line leads from one end to the other, and nothing of it was measured. */
export function isUnseen(reason: keyof typeof UNSURE_SIGMA_MM): boolean {
  return reason === 'covered' || reason === 'gap';
}
