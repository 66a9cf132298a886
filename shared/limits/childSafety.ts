// Rules for children's clothes that this program names and never tests. Figures are left out on purpose: the texts change
// and must be read where they are in force.

export const CORD_RULES =
  'the United States (16 CFR 1120, after ASTM F1816) and the European Union (EN 14682) have rules on cords and drawstrings in children’s clothes' as const;

export const SLEEPWEAR_RULES =
  'the United States has rules on children’s sleepwear (16 CFR 1615, sizes above 9 months to 6X; 16 CFR 1616, sizes 7 to 14)' as const;

/** Body heights by which children's clothes are named, centimetres: steps of 6 (apparelmerchandisinglearner, 2017). */
export const CHILD_HEIGHTS_CM: readonly number[] = [50, 56, 62, 68, 74, 80, 86, 92, 98, 104, 110, 116, 122];

/** The tallest chest in a published chart of children's sizes 92 to 122 (ottobredesign.com). */
export const CHILD_CHEST_MM = 640;
/** Taller than this nobody is a young child by EN 14682 (to 134 cm, Tukes). */
export const CHILD_HEIGHT_MM = 1340;
