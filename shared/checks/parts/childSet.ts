// Whether a set is made for a child, as far as its names, sizes and bodies say. Nobody is asked for a birthday.
import { CHILD_CHEST_MM, CHILD_HEIGHT_MM, CHILD_HEIGHTS_CM } from '../../limits/childSafety.ts';
import type { CheckContext } from '../context.ts';

const WORDS = /\b(child(ren)?('s)?|kids?|girls?|boys?|bab(y|ies)|infants?|toddlers?|newborn)\b/i;
/** "2T", "6X", "age 5", "4 years", "18 months", "3-6 months", "5/6 Y". */
const SIZES =
  /^\s*([2-5]t|[4-6]x|(age\s*)?\d{1,2}(\s*[-–/]\s*\d{1,2})?\s*(y|yrs?|years?|m|mths?|months?)|age\s*\d{1,2}(\s*[-–/]\s*\d{1,2})?)\s*$/i;
const HEIGHT_STEP_CM = 6;
/** From here up the same numbers are also used for the chests of grown-ups. */
const SURELY_HEIGHT_CM = 98;

/** What says so, in words; null when nothing does. */
export function childSign({ set }: CheckContext): string | null {
  const named = [set.name, ...set.pieces.map(({ name }) => name)].find((name) => WORDS.test(name));
  if (named !== undefined) return `the name "${named}"`;
  const size = set.sizes.find((name) => WORDS.test(name) || SIZES.test(name));
  if (size !== undefined) return `the size "${size}"`;
  const heights = set.sizes.map(Number).filter((cm) => CHILD_HEIGHTS_CM.includes(cm));
  const step = heights.find((cm) => cm <= SURELY_HEIGHT_CM && heights.includes(cm + HEIGHT_STEP_CM));
  if (step !== undefined) return `the sizes ${step} and ${step + HEIGHT_STEP_CM}`;
  const body = set.bodies.find(({ measuresMm }) => {
    const chest = measuresMm.bust ?? measuresMm.chest;
    const { height } = measuresMm;
    return (chest !== undefined && chest <= CHILD_CHEST_MM) || (height !== undefined && height <= CHILD_HEIGHT_MM);
  });
  return body === undefined ? null : `the measurements of "${body.name}"`;
}
